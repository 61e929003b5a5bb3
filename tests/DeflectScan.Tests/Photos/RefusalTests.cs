using System.Buffers.Binary;
using System.IO.Compression;
using System.IO.Hashing;
using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Attacks;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats;
using SixLabors.ImageSharp.Formats.Bmp;
using SixLabors.ImageSharp.Formats.Gif;
using SixLabors.ImageSharp.Formats.Tiff;
using SixLabors.ImageSharp.PixelFormats;

namespace DeflectScan.Tests.Photos;

public class RefusalTests
{
    public static TheoryData<string> Kinds => [.. SmallPictures.All.Keys];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void AWholePictureOpensAndACutOneNeverDoes(string kind)
    {
        byte[] whole = SmallPictures.All[kind];
        using (UprightPhoto? photo = PhotoOpener.Open(whole, "a", PhotoLimits.Default).Value)
            Assert.NotNull(photo);
        for (int percent = 0; percent < 100; percent++)
            Refused(FindingCode.FileUnreadable, whole[..(whole.Length * percent / 100)]);
        Refused(FindingCode.FileUnreadable, whole[..^1]);
    }

    [Fact]
    public void APhonesPhotoCutAnywhereIsRefused()
    {
        byte[] whole = File.ReadAllBytes(Repository.Photo("one-card"));
        for (int percent = 2; percent < 100; percent += 3)
            Refused(FindingCode.FileUnreadable, whole[..(int)((long)whole.Length * percent / 100)]);
    }

    [Theory]
    [InlineData("jpeg-444")]
    [InlineData("jpeg-420")]
    [InlineData("jpeg-grey")]
    public void ACutJpegThatWasGivenAnEndIsRefused(string kind)
    {
        byte[] whole = SmallPictures.All[kind];
        int scan = whole.AsSpan().IndexOf<byte>([0xFF, 0xDA]) + 14;
        for (int length = scan; length < whole.Length - 4; length += 3)
            Refused(FindingCode.FileUnreadable, [.. whole[..length], 0xFF, 0xD9]);
    }

    [Fact]
    public void APhonesPhotoWithAHoleIsRefused()
    {
        byte[] whole = File.ReadAllBytes(Repository.Photo("one-card"));
        Refused(FindingCode.FileUnreadable, [.. whole[..(whole.Length / 2)], .. whole[((whole.Length / 2) + 4096)..]]);
        Refused(FindingCode.FileUnreadable, [.. whole[..(whole.Length / 2)], 0xFF, 0xD9]);
    }

    [Fact]
    public void EveryTestPhotoHoldsAllOfItsBlocks()
    {
        foreach (string photo in Directory.GetFiles(Repository.TestImages, "*.jpg", SearchOption.AllDirectories))
        {
            byte[] bytes = File.ReadAllBytes(photo);
            JpegStructure.Read(bytes).CheckCoding!(bytes); // throws where one is missing
        }
    }

    [Fact]
    public void WhatFollowsAWholeJpegDoesNotMatter()
    {
        byte[] whole = SmallPictures.All["jpeg-420"];
        byte[] trailed = [.. whole, .. whole[..100], .. new byte[500]];
        using UprightPhoto? photo = PhotoOpener.Open(trailed, "a", PhotoLimits.Default).Value;
        Assert.NotNull(photo);
    }

    [Fact]
    public void TheContentDecidesNotTheName()
    {
        using TempFolder folder = new();
        string path = folder.File("photo.jpg", SmallPictures.All["png-rgb"]);
        using UprightPhoto? photo = PhotoOpener.Open(path, PhotoLimits.Default).Value;
        Assert.NotNull(photo);
        string bmp = folder.File("photo.png", Other(new BmpEncoder()));
        Assert.Equal("This is a BMP picture: give a photo as JPEG, PNG or WebP.", PhotoOpener.Open(bmp, PhotoLimits.Default).Findings.Single().Message);
    }

    [Fact]
    public void OtherKindsAreRefusedByName()
    {
        Assert.Contains("BMP", Refused(FindingCode.FileUnreadable, Other(new BmpEncoder())), StringComparison.Ordinal);
        Assert.Contains("GIF", Refused(FindingCode.FileUnreadable, Other(new GifEncoder())), StringComparison.Ordinal);
        Assert.Contains("TIFF", Refused(FindingCode.FileUnreadable, Other(new TiffEncoder())), StringComparison.Ordinal);
        Assert.Contains("PDF", Refused(FindingCode.FileUnreadable, "%PDF-1.7\n1 0 obj"u8.ToArray()), StringComparison.Ordinal);
        Refused(FindingCode.FileUnreadable, "just some text"u8.ToArray());
        Refused(FindingCode.FileUnreadable, []);
        Refused(FindingCode.FileUnreadable, new byte[4096]);
    }

    [Fact]
    public void PathsThatHoldNoPhotoAreRefused()
    {
        using TempFolder folder = new();
        foreach (string path in new[] { folder.Path, Path.Combine(folder.Path, "none.jpg"), folder.File("empty.jpg", []), "/dev/zero", "a\0b", "" })
        {
            Outcome<UprightPhoto> outcome = PhotoOpener.Open(path, PhotoLimits.Default);
            Assert.True(outcome.IsRefused);
            Assert.True(AttackRun.IsOneSentence(outcome.Findings.Single().Message), outcome.Findings[0].Message);
        }
    }

    [Fact]
    public void ABombIsRefusedAtOnceAndWithoutMemory()
    {
        PhotoOpener.Open(SmallPictures.All["png-rgb"], "warm", PhotoLimits.Default).Value!.Dispose();
        foreach ((int width, int height, FindingCode code) in new[]
        {
            (30_000, 30_000, FindingCode.FileTooLarge), (int.MaxValue, int.MaxValue, FindingCode.FileTooLarge),
            (11_000, 10_900, FindingCode.FileUnreadable), // within the pixel limit, but its data cannot hold that many
        })
        {
            byte[] bomb = Png(width, height, 100_000);
            long before = GC.GetAllocatedBytesForCurrentThread();
            Refused(code, bomb);
            Assert.True(GC.GetAllocatedBytesForCurrentThread() - before < 1_000_000);
            double mean = ThreadClock.Mean(bar: 100, runs: 5, rounds: 2, () => Refused(code, bomb));
            Assert.True(mean <= 100, $"{mean:F0} ms");
        }
    }

    [Fact]
    public void AJpegThatClaimsMoreThanItHoldsIsRefused()
    {
        byte[] jpeg = [.. SmallPictures.All["jpeg-420"]];
        int frame = jpeg.AsSpan().IndexOf<byte>([0xFF, 0xC0]);
        BinaryPrimitives.WriteUInt16BigEndian(jpeg.AsSpan(frame + 5), 10_000);
        BinaryPrimitives.WriteUInt16BigEndian(jpeg.AsSpan(frame + 7), 10_000);
        Refused(FindingCode.FileUnreadable, jpeg);
        BinaryPrimitives.WriteUInt16BigEndian(jpeg.AsSpan(frame + 5), 65_000);
        BinaryPrimitives.WriteUInt16BigEndian(jpeg.AsSpan(frame + 7), 65_000);
        Assert.True(PhotoOpener.Open(jpeg, "a", PhotoLimits.Default).IsRefused);
    }

    [Fact]
    public void TheByteLimitHoldsBeforeReading()
    {
        using TempFolder folder = new();
        string path = folder.File("big.jpg", SmallPictures.All["jpeg-420"]);
        PhotoLimits limits = PhotoLimits.Default with { MaxBytes = 100 };
        Assert.Equal(FindingCode.FileTooLarge, PhotoOpener.Open(path, limits).Findings.Single().Code);
        limits = PhotoLimits.Default with { MaxPixels = (SmallPictures.Width * SmallPictures.Height) - 1 };
        Assert.Equal(FindingCode.FileTooLarge, PhotoOpener.Open(path, limits).Findings.Single().Code);
        limits = limits with { MaxPixels = SmallPictures.Width * SmallPictures.Height };
        using UprightPhoto? photo = PhotoOpener.Open(path, limits).Value;
        Assert.NotNull(photo);
    }

    [Fact]
    public void TwoThousandMutantsEachOpenOrEndInOneSentence()
    {
        AttackResult result = AttackRun.Run(seed: 1, first: 0, count: 2000);
        Assert.True(result.Faults.Count == 0, string.Join('\n', result.Faults.Take(10)));
        Assert.InRange(result.Opened, 20, 1000); // else the mutator would be toothless or blunt
        Assert.Equal(2000, result.Opened + result.Refused);
    }

    private static string Refused(FindingCode code, byte[] bytes)
    {
        Outcome<UprightPhoto> outcome = PhotoOpener.Open(bytes, "a", PhotoLimits.Default);
        outcome.Value?.Dispose();
        Assert.True(outcome.IsRefused, $"{bytes.Length} bytes were opened");
        Finding finding = Assert.Single(outcome.Findings);
        Assert.Equal(code, finding.Code);
        Assert.True(AttackRun.IsOneSentence(finding.Message), finding.Message);
        return finding.Message;
    }

    private static byte[] Other(IImageEncoder encoder)
    {
        using Image<Rgb24> picture = SmallPictures.Picture(1);
        return SmallPictures.Encode(picture, encoder);
    }

    /// <summary>A well-formed PNG of one compressed run of zeros, whatever size it claims.</summary>
    private static byte[] Png(int width, int height, int rawBytes)
    {
        using MemoryStream packed = new();
        using (ZLibStream zlib = new(packed, CompressionLevel.SmallestSize, leaveOpen: true))
            zlib.Write(new byte[rawBytes]);
        byte[] head = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(head, width);
        BinaryPrimitives.WriteInt32BigEndian(head.AsSpan(4), height);
        (head[8], head[9]) = (8, 2);
        return [0x89, .. "PNG\r\n"u8, 0x1A, 0x0A, .. Chunk("IHDR"u8, head), .. Chunk("IDAT"u8, packed.ToArray()), .. Chunk("IEND"u8, [])];
    }

    private static byte[] Chunk(ReadOnlySpan<byte> type, byte[] body)
    {
        byte[] chunk = [0, 0, 0, 0, .. type, .. body, 0, 0, 0, 0];
        BinaryPrimitives.WriteInt32BigEndian(chunk, body.Length);
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(8 + body.Length), Crc32.HashToUInt32(chunk.AsSpan(4, 4 + body.Length)));
        return chunk;
    }
}

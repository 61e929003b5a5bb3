using System.Text;
using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using OpenCvSharp;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Formats.Png;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;
using SixLabors.ImageSharp.PixelFormats;

namespace DeflectScan.Tests.Photos;

/// <summary>What is taken out of a photo before it is kept, written and read back with another EXIF implementation (ImageSharp's).</summary>
public class PlainPhotoTests
{
    private const string Xmp = "http://ns.adobe.com/xap/1.0/\0<x exif:GPSLatitude='48,8.2N'/>";

    private static byte[] WithPlace(IImageEncoder encoder)
    {
        using Image<Rgb24> image = new(64, 48);
        for (int y = 0; y < 48; y++)
        {
            for (int x = 0; x < 64; x++)
                image[x, y] = new Rgb24((byte)(x * 3), (byte)(y * 5), (byte)(x * y));
        }

        ExifProfile exif = new();
        exif.SetValue(ExifTag.Make, "Example");
        exif.SetValue(ExifTag.Model, "Phone");
        exif.SetValue(ExifTag.Orientation, (ushort)6);
        exif.SetValue(ExifTag.DateTimeOriginal, "2026:05:02 10:11:12");
        exif.SetValue(ExifTag.FocalLength, new Rational(253, 60));
        exif.SetValue(ExifTag.FocalLengthIn35mmFilm, (ushort)26);
        exif.SetValue(ExifTag.LensModel, "Wide");
        exif.SetValue(ExifTag.GPSLatitudeRef, "N");
        exif.SetValue(ExifTag.GPSLatitude, [new Rational(48, 1), new Rational(8, 1), new Rational(12, 1)]);
        exif.SetValue(ExifTag.OwnerName, "Somebody");
        exif.SetValue(ExifTag.SerialNumber, "12345");
        image.Metadata.ExifProfile = exif;
        using MemoryStream file = new();
        image.Save(file, encoder);
        return file.ToArray();
    }

    public static TheoryData<string> Kinds() => ["jpeg", "png"];

    private static byte[] Of(string kind)
    {
        if (kind == "png")
            return WithPlace(new PngEncoder());
        byte[] plain = WithPlace(new JpegEncoder { Quality = 92 });
        byte[] xmp = Encoding.ASCII.GetBytes(Xmp);
        // XMP after the first segment, and a film behind the picture, as phones write them.
        return [0xFF, 0xD8, 0xFF, 0xE1, 0, (byte)(xmp.Length + 2), .. xmp, .. plain[2..], .. Encoding.ASCII.GetBytes("ftypmp42 +48.1367+011.5769/")];
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void ThePlaceAndWhoseItIsAreGone(string kind)
    {
        byte[] given = Of(kind);
        Assert.Contains(Image.Identify(given).Metadata.ExifProfile.Values, v => v.Tag == ExifTag.GPSLatitude); // it was there
        PlainPhoto plain = PlainPhoto.Of(given).Value!;
        Assert.True(plain.SaidPlace);
        ExifProfile left = Image.Identify(plain.Bytes).Metadata.ExifProfile;
        Assert.Equal(
            ["DateTimeOriginal", "FocalLength", "FocalLengthIn35mmFilm", "LensModel", "Make", "Model", "Orientation"],
            left.Values.Select(v => v.Tag.ToString()).Except(["ExifOffset", "SubIFDOffset"]).Order(StringComparer.Ordinal));
        string bytes = Encoding.Latin1.GetString(plain.Bytes);
        foreach (string word in new[] { "GPS", "48,8", "Somebody", "12345", "ftyp", "+48.1367" })
            Assert.DoesNotContain(word, bytes, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void EveryPixelAndWhatMeasuringUsesStay(string kind)
    {
        byte[] given = Of(kind);
        byte[] plain = PlainPhoto.Of(given).Value!.Bytes;
        using UprightPhoto before = PhotoOpener.Open(given, "a", PhotoLimits.Default).Value!;
        using UprightPhoto after = PhotoOpener.Open(plain, "a", PhotoLimits.Default).Value!;
        Assert.Equal(before.Info with { Sha256 = "" }, after.Info with { Sha256 = "" });
        using Mat difference = new();
        Cv2.Absdiff(before.Bgr, after.Bgr, difference);
        Assert.Equal(0, Cv2.Sum(difference).Val0 + Cv2.Sum(difference).Val1 + Cv2.Sum(difference).Val2);
    }

    [Fact]
    public void APlainPhotoStaysAsItIs()
    {
        byte[] once = PlainPhoto.Of(File.ReadAllBytes(Repository.Photo("clean-spinning"))).Value!.Bytes;
        PlainPhoto twice = PlainPhoto.Of(once).Value!;
        Assert.False(twice.SaidPlace);
        Assert.True(once.AsSpan().SequenceEqual(twice.Bytes)); // the same photo of two phones is the same file then
    }

    [Theory]
    [InlineData("photo")]
    [InlineData("webp-lossy")]
    public void AnyPhotoOfTheTestsCanStillBeOpened(string name)
    {
        byte[] file = name == "photo" ? File.ReadAllBytes(Repository.Photo("rotated-exif")) : SmallWebp();
        using UprightPhoto before = PhotoOpener.Open(file, "a", PhotoLimits.Default).Value!;
        using UprightPhoto after = PhotoOpener.Open(PlainPhoto.Of(file).Value!.Bytes, "a", PhotoLimits.Default).Value!;
        Assert.Equal(before.Info with { Sha256 = "" }, after.Info with { Sha256 = "" });
    }

    [Fact]
    public void NothingIsKeptOfWhatDoesNotHoldTogether()
    {
        byte[] jpeg = Of("jpeg");
        foreach (byte[] bad in new[] { jpeg[..(jpeg.Length / 3)], [1, 2, 3], [], [.. "\0\0\0\u0018ftypheic"u8, .. new byte[40]] })
        {
            Outcome<PlainPhoto> outcome = PlainPhoto.Of(bad);
            Assert.True(outcome.IsRefused);
            Assert.EndsWith(".", outcome.Findings[0].Message, StringComparison.Ordinal);
        }
    }

    private static byte[] SmallWebp()
    {
        using Mat grey = new(40, 50, MatType.CV_8UC3, new Scalar(90, 120, 150));
        Cv2.ImEncode(".webp", grey, out byte[] bytes, [(int)ImwriteFlags.WebPQuality, 80]);
        return bytes;
    }
}

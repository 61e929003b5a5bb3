using System.ComponentModel;
using System.Diagnostics;
using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Scenes.Attacks;
using OpenCvSharp;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.PixelFormats;

namespace DeflectScan.Tests.Photos;

/// <summary>
/// HEIC files made by heif-enc (Debian's libheif-examples, which the test command installs). Where it cannot be had, what is left to test is
/// the advice; a message on the console says so.
/// </summary>
public class HeicTests
{
    /// <summary>The start of a HEIC file as far as its kind shows.</summary>
    private static readonly byte[] Stub = [0, 0, 0, 24, .. "ftypheic"u8, 0, 0, 0, 0, .. "mif1heic"u8];

    /// <summary>
    /// In HEIF the turn is a property of the picture, which the converter obeys, and EXIF's orientation counts for nothing (ISO/IEC 23000-22, MIAF).
    /// heif-enc states no turn and keeps EXIF as it is, so the picture must come out as it went in whatever EXIF says.
    /// </summary>
    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(6)]
    [InlineData(8)]
    public void ExifDoesNotTurnAHeicPhotoASecondTime(int orientation)
    {
        using TempFolder folder = new();
        using Image<Rgb24> picture = SmallPictures.Picture(orientation, 192, 128);
        string jpeg = folder.File("photo.jpg", SmallPictures.Encode(picture, new JpegEncoder { Quality = 97, ColorType = JpegColorType.YCbCrRatio444 }));
        string heic = Path.Combine(folder.Path, "photo.heic");
        if (!Ran("heif-enc", "-q", "95", jpeg, "-o", heic))
            return;

        using UprightPhoto? photo = PhotoOpener.Open(heic, PhotoLimits.Default).Value;

        Assert.NotNull(photo);
        Assert.Equal((picture.Width, picture.Height), (photo.Info.WidthPx, photo.Info.HeightPx));
        Assert.Equal("photo.heic", photo.Info.FileName);
        Assert.Equal(1, photo.Info.ExifOrientation);
        foreach ((int x, int y) in new[] { (10, 10), (picture.Width - 10, 10), (10, picture.Height - 10), (picture.Width - 10, picture.Height - 10) })
        {
            Vec3b seen = photo.Bgr.At<Vec3b>(y, x);
            Rgb24 right = picture[x, y];
            Assert.True(Math.Abs(seen.Item1 - right.G) < 25 && Math.Abs(seen.Item2 - right.R) < 25, $"({x}, {y}) is {seen.Item2} {seen.Item1}, not {right}");
        }
    }

    [Fact]
    public void AHeicThatCannotBeReadEndsInOneSentence()
    {
        Outcome<UprightPhoto> outcome = PhotoOpener.Open(Stub, "photo.heic", PhotoLimits.Default);
        Assert.True(outcome.IsRefused);
        string message = outcome.Findings.Single().Message;
        Assert.True(AttackRun.IsOneSentence(message), message);
        Assert.Contains("JPEG", message, StringComparison.Ordinal);
    }

    [Fact]
    public void AHeicThatStatesTooManyPixelsIsRefusedUnconverted()
    {
        byte[] bomb = [.. Stub, 0, 0, 0, 20, .. "ispe"u8, 0, 0, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0];
        Assert.Equal(65536L * 65536, HeicConverter.LargestStatedSize(bomb));
        Assert.Equal(FindingCode.FileTooLarge, PhotoOpener.Open(bomb, "photo.heic", PhotoLimits.Default).Findings.Single().Code);
    }

    private static bool Ran(string program, params string[] args)
    {
        try
        {
            using Process process = Process.Start(new ProcessStartInfo(program, args) { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true })!;
            process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode == 0;
        }
        catch (Win32Exception)
        {
            Console.WriteLine($"{program} is not installed (package libheif-examples): converting HEIC is not tested in this run.");
            return false;
        }
    }
}

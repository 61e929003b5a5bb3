using System.Security.Cryptography;
using System.Text;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Attacks;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;
using SixLabors.ImageSharp.PixelFormats;

namespace DeflectScan.Tests.Photos;

public class PhotoFactsTests
{
    [Fact]
    public void TheFactsOfTheFileAreRead()
    {
        byte[] file = SmallPictures.All["jpeg-444"];
        using UprightPhoto photo = PhotoOpener.Open(file, "a.jpg", PhotoLimits.Default).Value!;
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(file)), photo.Info.Sha256);
        Assert.Equal("a.jpg", photo.Info.FileName);
        Assert.Equal(new DateTime(2026, 5, 2, 10, 11, 12), photo.Info.TakenAt);
        Assert.Equal(("Example", "Phone", "Wide"), (photo.Info.CameraMake, photo.Info.CameraModel, photo.Info.LensModel));
        Assert.Equal(5.96, photo.Info.FocalLengthMm!.Value, 1e-6);
        Assert.Equal(26, photo.Info.FocalLength35Mm);
        Assert.Equal(1.5, photo.Info.DigitalZoom!.Value, 1e-6);
    }

    [Fact]
    public void ARenderedPhotoTellsItsLens()
    {
        using UprightPhoto photo = PhotoOpener.Open(Repository.Photo("clean-spinning"), PhotoLimits.Default).Value!;
        Assert.Equal((4032, 3024), (photo.Info.WidthPx, photo.Info.HeightPx));
        Assert.Equal(27, photo.Info.FocalLength35Mm); // what the renderer wrote, read with another EXIF tool as well
        Assert.Null(photo.Info.DigitalZoom);
    }

    [Fact]
    public void HostileTextIsStripped()
    {
        byte[] file = WithExif(e =>
        {
            e.SetValue(ExifTag.Make, "\u001b[31mEvil\u001b]0;title\u0007\r\nMake\u202e");
            e.SetValue(ExifTag.Model, new string('M', 5000));
            e.SetValue(ExifTag.LensModel, "\u0001\u0002 \u007f");
        });
        using UprightPhoto photo = PhotoOpener.Open(file, "a.jpg", PhotoLimits.Default).Value!;
        Assert.DoesNotContain(photo.Info.CameraMake!, char.IsControl);
        Assert.StartsWith("[31mEvil]0;titleMake", photo.Info.CameraMake, StringComparison.Ordinal);
        Assert.DoesNotContain('\u202e', photo.Info.CameraMake!);
        Assert.Equal(64, photo.Info.CameraModel!.Length);
        Assert.Null(photo.Info.LensModel);
    }

    [Fact]
    public void FactsOutOfASaneRangeAreLeftOut()
    {
        byte[] file = WithExif(e =>
        {
            e.SetValue(ExifTag.Orientation, (ushort)77);
            e.SetValue(ExifTag.FocalLength, new Rational(1, 0));
            e.SetValue(ExifTag.FocalLengthIn35mmFilm, (ushort)0);
            e.SetValue(ExifTag.DigitalZoomRatio, new Rational(0, 0));
            e.SetValue(ExifTag.DateTimeOriginal, "0000:00:00 00:00:00");
        });
        using UprightPhoto photo = PhotoOpener.Open(file, "a.jpg", PhotoLimits.Default).Value!;
        Assert.Equal(1, photo.Info.ExifOrientation);
        Assert.Null(photo.Info.FocalLengthMm);
        Assert.Null(photo.Info.FocalLength35Mm);
        Assert.Null(photo.Info.DigitalZoom);
        Assert.Null(photo.Info.TakenAt);
    }

    [Fact]
    public void EveryBrokenExifBlockStillLeavesThePhoto()
    {
        byte[] whole = SmallPictures.All["jpeg-444"];
        int exif = whole.AsSpan().IndexOf("Exif\0\0"u8) + 6;
        int length = (whole[exif - 8] << 8 | whole[exif - 7]) - 8;
        for (int i = 0; i < length; i++)
        {
            foreach (byte value in new byte[] { 0x00, 0xFF })
            {
                byte[] broken = [.. whole];
                broken[exif + i] = value;
                using UprightPhoto? photo = PhotoOpener.Open(broken, "a.jpg", PhotoLimits.Default).Value;
                Assert.NotNull(photo);
                Assert.InRange(photo.Info.ExifOrientation, 1, 8);
            }
        }
    }

    private static byte[] WithExif(Action<ExifProfile> change)
    {
        using Image<Rgb24> picture = SmallPictures.Picture(1);
        change(picture.Metadata.ExifProfile);
        return SmallPictures.Encode(picture, new JpegEncoder());
    }
}

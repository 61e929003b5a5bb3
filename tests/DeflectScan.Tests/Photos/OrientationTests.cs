using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Attacks;
using OpenCvSharp;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Formats.Png;
using SixLabors.ImageSharp.Formats.Webp;
using SixLabors.ImageSharp.PixelFormats;
using SixLabors.ImageSharp.Processing;

namespace DeflectScan.Tests.Photos;

/// <summary>Every orientation against ImageSharp's own AutoOrient, an implementation that the opener does not use.</summary>
public class OrientationTests
{
    public static TheoryData<int, string> EveryOrientation()
    {
        TheoryData<int, string> data = [];
        for (int o = 1; o <= 8; o++)
        {
            foreach (string kind in new[] { "jpeg", "png", "webp" })
                data.Add(o, kind);
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(EveryOrientation))]
    public void ThePhotoIsTurnedUprightOnce(int orientation, string kind)
    {
        (IImageEncoder encoder, int tolerance) = kind switch
        {
            "jpeg" => ((IImageEncoder)new JpegEncoder { Quality = 98, ColorType = JpegColorType.YCbCrRatio444 }, 12),
            "png" => (new PngEncoder(), 0),
            _ => (new WebpEncoder { FileFormat = WebpFileFormatType.Lossless }, 0),
        };
        using Image<Rgb24> picture = SmallPictures.Picture(orientation);
        byte[] file = SmallPictures.Encode(picture, encoder);
        picture.Mutate(p => p.AutoOrient());

        using UprightPhoto photo = PhotoOpener.Open(file, "photo", PhotoLimits.Default).Value!;

        Assert.Equal(orientation, photo.Info.ExifOrientation);
        Assert.Equal((picture.Width, picture.Height), (photo.Info.WidthPx, photo.Info.HeightPx));
        Assert.Equal((picture.Width, picture.Height), (photo.Bgr.Width, photo.Bgr.Height));
        for (int y = 2; y < picture.Height; y += 5)
        {
            for (int x = 2; x < picture.Width; x += 5)
            {
                Vec3b seen = photo.Bgr.At<Vec3b>(y, x);
                Rgb24 right = picture[x, y];
                Assert.True(
                    Math.Abs(seen.Item0 - right.B) <= tolerance && Math.Abs(seen.Item1 - right.G) <= tolerance && Math.Abs(seen.Item2 - right.R) <= tolerance,
                    $"({x}, {y}) is {seen.Item2} {seen.Item1} {seen.Item0}, not {right}");
            }
        }
    }

    [Fact]
    public void APortraitPhotoStoredOnItsSideHasTheSizeThatItsTruthStates()
    {
        Truth truth = Repository.Truth("rotated-exif");
        using UprightPhoto photo = PhotoOpener.Open(Repository.Photo("rotated-exif"), PhotoLimits.Default).Value!;
        Assert.Equal(truth.Image.Orientation, photo.Info.ExifOrientation);
        Assert.Equal((truth.Image.Displayed[0], truth.Image.Displayed[1]), (photo.Info.WidthPx, photo.Info.HeightPx));
    }
}

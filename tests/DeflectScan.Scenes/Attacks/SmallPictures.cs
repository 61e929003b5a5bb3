using OpenCvSharp;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Formats.Png;
using SixLabors.ImageSharp.Formats.Webp;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;
using SixLabors.ImageSharp.PixelFormats;

namespace DeflectScan.Scenes.Attacks;

/// <summary>
/// Small whole pictures of every kind that a photo may have, written by a library that the program does not decode with.
/// The picture has no symmetry, so any of the eight orientations gives another one.
/// </summary>
public static class SmallPictures
{
    public const int Width = 48;
    public const int Height = 32;

    /// <summary>File bytes by a name that says the kind; seeds for mutation.</summary>
    public static IReadOnlyDictionary<string, byte[]> All { get; } = new SortedDictionary<string, byte[]>(StringComparer.Ordinal)
    {
        ["jpeg-444"] = Encode(Picture(6), new JpegEncoder { Quality = 92, ColorType = JpegColorType.YCbCrRatio444 }),
        ["jpeg-420"] = Encode(Picture(1), new JpegEncoder { Quality = 80, ColorType = JpegColorType.YCbCrRatio420 }),
        ["jpeg-grey"] = Encode(Picture(1), new JpegEncoder { ColorType = JpegColorType.Luminance }),
        ["jpeg-progressive"] = Progressive(),
        ["png-rgb"] = Encode(Picture(6), new PngEncoder { ColorType = PngColorType.Rgb }),
        ["png-rgba16"] = Encode(Picture(1), new PngEncoder { ColorType = PngColorType.RgbWithAlpha, BitDepth = PngBitDepth.Bit16 }),
        ["png-grey16"] = Encode(Picture(1), new PngEncoder { ColorType = PngColorType.Grayscale, BitDepth = PngBitDepth.Bit16 }),
        ["png-palette"] = Encode(Picture(1), new PngEncoder { ColorType = PngColorType.Palette, BitDepth = PngBitDepth.Bit4 }),
        ["png-interlaced"] = Encode(Picture(8), new PngEncoder { InterlaceMethod = PngInterlaceMode.Adam7 }),
        ["webp-lossy"] = Encode(Picture(6), new WebpEncoder { FileFormat = WebpFileFormatType.Lossy, Quality = 80 }),
        ["webp-lossless"] = Encode(Picture(1), new WebpEncoder { FileFormat = WebpFileFormatType.Lossless }),
    };

    /// <summary>A picture without symmetry, with an EXIF block such as a phone writes.</summary>
    /// <param name="orientation">EXIF orientation to state; the pixels are the same for each.</param>
    public static Image<Rgb24> Picture(int orientation, int width = Width, int height = Height)
    {
        Image<Rgb24> image = new(width, height);
        for (int y = 0; y < height; y++)
        {
            for (int x = 0; x < width; x++)
            {
                bool ink = x < width / 3 && y < height / 2;
                image[x, y] = new Rgb24((byte)(30 + (180 * x / width)), (byte)(40 + (170 * y / height)), ink ? (byte)230 : (byte)60);
            }
        }

        ExifProfile exif = new();
        exif.SetValue(ExifTag.Orientation, (ushort)orientation);
        exif.SetValue(ExifTag.Make, "Example");
        exif.SetValue(ExifTag.Model, "Phone");
        exif.SetValue(ExifTag.LensModel, "Wide");
        exif.SetValue(ExifTag.DateTimeOriginal, "2026:05:02 10:11:12");
        exif.SetValue(ExifTag.FocalLength, new Rational(5.96));
        exif.SetValue(ExifTag.FocalLengthIn35mmFilm, (ushort)26);
        exif.SetValue(ExifTag.DigitalZoomRatio, new Rational(1.5));
        image.Metadata.ExifProfile = exif;
        return image;
    }

    public static byte[] Encode(Image image, IImageEncoder encoder)
    {
        using MemoryStream stream = new();
        image.Save(stream, encoder);
        return stream.ToArray();
    }

    private static byte[] Progressive()
    {
        byte[] png = Encode(Picture(1), new PngEncoder { ColorType = PngColorType.Rgb });
        using Mat mat = Cv2.ImDecode(png, ImreadModes.Color);
        Cv2.ImEncode(".jpg", mat, out byte[] jpeg, [(int)ImwriteFlags.JpegProgressive, 1, (int)ImwriteFlags.JpegRstInterval, 2]);
        return jpeg;
    }
}

using System.Runtime.InteropServices;
using OpenCvSharp;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Advanced;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;
using SixLabors.ImageSharp.PixelFormats;
using SixLabors.ImageSharp.Processing;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Stores a picture as a phone would: JPEG with EXIF orientation and 35 mm focal length.</summary>
public static class PhoneFile
{
    public static byte[] Jpeg(SceneOptions o, Mat bgr)
    {
        int rows = bgr.Rows;
        int columns = bgr.Cols;
        byte[] pixels = new byte[rows * columns * 3];
        for (int y = 0; y < rows; y++)
            Marshal.Copy(bgr.Ptr(y), pixels, y * columns * 3, columns * 3);
        return Jpeg(o, pixels, columns, rows);
    }

    public static byte[] Jpeg(SceneOptions o, byte[] bgr) => Jpeg(o, bgr, o.WidthPx, o.HeightPx);

    private static byte[] Jpeg(SceneOptions o, byte[] bgr, int width, int height)
    {
        using Image<Rgb24> image = FromBgr(bgr, width, height);
        image.Mutate(x => x.Rotate(o.Orientation switch { 1 => RotateMode.None, 3 => RotateMode.Rotate180, 6 => RotateMode.Rotate270, 8 => RotateMode.Rotate90, _ => throw new ArgumentOutOfRangeException(nameof(o)) }));
        ExifProfile exif = new();
        exif.SetValue(ExifTag.Orientation, (ushort)o.Orientation);
        exif.SetValue(ExifTag.DateTimeOriginal, "2026:05:02 10:11:12");
        if (o.WritesFocal)
        {
            exif.SetValue(ExifTag.FocalLengthIn35mmFilm, (ushort)Math.Round(o.Focal35Mm));
            exif.SetValue(ExifTag.FocalLength, new Rational(o.Focal35Mm / 4.2));
        }

        image.Metadata.ExifProfile = exif;
        using MemoryStream stream = new();
        image.Save(stream, new JpegEncoder { Quality = o.JpegQuality, ColorType = JpegColorType.YCbCrRatio420 });
        return stream.ToArray();
    }

    private static Image<Rgb24> FromBgr(byte[] bgr, int columns, int rows)
    {
        Image<Rgb24> image = new(columns, rows);
        for (int y = 0; y < rows; y++)
        {
            ReadOnlySpan<Bgr24> row = MemoryMarshal.Cast<byte, Bgr24>(bgr.AsSpan(y * columns * 3, columns * 3));
            Span<Rgb24> to = image.DangerousGetPixelRowMemory(y).Span;
            for (int x = 0; x < row.Length; x++)
                to[x] = new Rgb24(row[x].R, row[x].G, row[x].B);
        }

        return image;
    }
}

using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Cards;
using OpenCvSharp;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;

namespace DeflectScan.Scenes.Rendering;

/// <summary>
/// Photos of one printed scale card by one known camera, as a person takes them to calibrate a lens: every pixel's ray is followed to the
/// card and read there from its print, then blurred and given noise.
/// </summary>
public sealed class CardPhotos(CameraModel camera, int widthPx, int heightPx) : IDisposable
{
    private const double BlurPx = 0.7;
    private const double Noise = 2;
    private const double DistanceMm = 330;

    /// <summary>Twice what the photos resolve: fine enough, and not so fine that reading single pixels of it would alias.</summary>
    private const double PrintPxPerMm = 8;
    private readonly Mat _print = Print();

    /// <param name="seed">Pose and noise.</param>
    /// <param name="tiltDeg">Tilts lie within ± this.</param>
    /// <param name="spread">How far from the picture's middle the card stands, 1: up to its borders.</param>
    public Mat Render(int seed, double tiltDeg = 30, double spread = 1)
    {
        Random r = new(unchecked((seed * 7727) + 3));
        (double ax, double ay, double az) = (Tilt(), Tilt(), Tilt() / 2);
        Vec2 at = new(spread * Half() * 0.3 * widthPx, spread * Half() * 0.3 * heightPx);
        using Mat rvec = new(3, 1, MatType.CV_64FC1, Scalar.All(0));
        rvec.Set(0, ax);
        rvec.Set(1, ay);
        rvec.Set(2, az);
        using Mat rotation = new();
        Cv2.Rodrigues(rvec, rotation);
        double z = DistanceMm * (1 + (0.15 * Half()));
        double[] m = [.. Enumerable.Range(0, 9).Select(i => rotation.At<double>(i / 3, i % 3))];
        // The sheet's middle stands on the ray through a point of the picture.
        double[] middle = [at.X / camera.FocalPx * z, at.Y / camera.FocalPx * z, z];
        using Mat mapX = new(heightPx, widthPx, MatType.CV_32FC1);
        using Mat mapY = new(heightPx, widthPx, MatType.CV_32FC1);
        Parallel.For(0, heightPx, y => MapRow(y, m, middle, mapX, mapY));
        Mat photo = new();
        Cv2.Remap(_print, photo, mapX, mapY, InterpolationFlags.Cubic, BorderTypes.Constant, new Scalar(96, 104, 110));
        Cv2.GaussianBlur(photo, photo, default, BlurPx);
        using Mat noise = new(photo.Size(), MatType.CV_16SC3);
        new RNG((ulong)seed + 1).Fill(noise, DistributionType.Normal, InputArray.Create(new double[] { 0, 0, 0 }), InputArray.Create(new double[] { Noise, Noise, Noise }));
        using Mat wide = new();
        photo.ConvertTo(wide, MatType.CV_16SC3, 0.85, 15);
        Cv2.Add(wide, noise, wide);
        wide.ConvertTo(photo, MatType.CV_8UC3);
        return photo;

        double Half() => (2 * r.NextDouble()) - 1;
        double Tilt() => tiltDeg * Math.PI / 180 * Half();
    }

    /// <summary>A photo as a phone stores it.</summary>
    public byte[] RenderJpeg(int seed, string model, int focal35Mm, double tiltDeg = 30, double spread = 1)
    {
        using Mat bgr = Render(seed, tiltDeg, spread);
        return Jpeg(bgr, model, focal35Mm);
    }

    public static byte[] Jpeg(Mat bgr, string model, int focal35Mm)
    {
        Cv2.ImEncode(".png", bgr, out byte[] png, [(int)ImwriteFlags.PngCompression, 1]);
        using Image image = Image.Load(png);
        ExifProfile exif = new();
        exif.SetValue(ExifTag.Make, "Made up");
        exif.SetValue(ExifTag.Model, model);
        exif.SetValue(ExifTag.FocalLengthIn35mmFilm, (ushort)focal35Mm);
        exif.SetValue(ExifTag.FocalLength, new Rational(focal35Mm / 4.2));
        image.Metadata.ExifProfile = exif;
        using MemoryStream stream = new();
        image.Save(stream, new JpegEncoder { Quality = 93 });
        return stream.ToArray();
    }

    public void Dispose() => _print.Dispose();

    private void MapRow(int y, double[] m, double[] middle, Mat mapX, Mat mapY)
    {
        for (int x = 0; x < widthPx; x++)
        {
            Vec2 ray = camera.Undistort(new Vec2(x, y));
            // Where the ray meets the plane through the middle with the card's own axes as the rotation's columns.
            double normal = (m[2] * ray.X) + (m[5] * ray.Y) + m[8];
            double t = ((m[2] * middle[0]) + (m[5] * middle[1]) + (m[8] * middle[2])) / normal;
            double[] p = [(t * ray.X) - middle[0], (t * ray.Y) - middle[1], t - middle[2]];
            double u = (m[0] * p[0]) + (m[3] * p[1]) + (m[6] * p[2]);
            double v = (m[1] * p[0]) + (m[4] * p[1]) + (m[7] * p[2]);
            mapX.Set(y, x, (float)(((u + 105) * PrintPxPerMm) - 0.5));
            mapY.Set(y, x, (float)(((v + 148.5) * PrintPxPerMm) - 0.5));
        }
    }

    private static Mat Print()
    {
        using MemoryStream png = new();
        CardDrawing.WritePng('A', Paper.A4, png);
        using Mat fine = Cv2.ImDecode(png.ToArray(), ImreadModes.Color);
        Mat print = new();
        Cv2.Resize(fine, print, new OpenCvSharp.Size((int)(PrintPxPerMm * 210), (int)(PrintPxPerMm * 297)), 0, 0, InterpolationFlags.Area);
        return print;
    }
}

using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using OpenCvSharp;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// The photo made small enough to search: about one rod-plane millimetre a pixel, averaged by area, as luma and two colour
/// differences (blue and red against luma) so that a blank that is as bright as the wall still shows by its colour.
/// </summary>
internal sealed class SearchImage : IDisposable
{
    private SearchImage(Mat channels, Mat masked, RodPlane plane, double factor)
    {
        Channels = channels;
        Masked = masked;
        Plane = plane;
        PhotoPxPerPx = factor;
        Vec2 middle = plane.ToPlane(ToPhoto(new Vec2(channels.Width / 2.0, channels.Height / 2.0)));
        MmPerPx = plane.MmPerPx(middle) * factor;
    }

    /// <summary>32-bit float, three channels: luma, blue minus luma, red minus luma, in 8-bit levels.</summary>
    public Mat Channels { get; }

    /// <summary>8-bit: 255 on cards, 0 elsewhere.</summary>
    public Mat Masked { get; }

    public RodPlane Plane { get; }

    /// <summary>Side of one search pixel in photo pixels, at least 1.</summary>
    public double PhotoPxPerPx { get; }

    /// <summary>Scale at the picture's middle.</summary>
    public double MmPerPx { get; }

    public int Width => Channels.Width;

    public int Height => Channels.Height;

    public static SearchImage Of(UprightPhoto photo, RodPlane plane, IReadOnlyList<IReadOnlyList<Vec2>> cardOutlinesMm, double mmPerPx)
    {
        Vec2 middle = plane.ToPlane(new Vec2(photo.Bgr.Width / 2.0, photo.Bgr.Height / 2.0));
        double factor = Math.Max(1, mmPerPx / plane.MmPerPx(middle));
        int width = (int)Math.Round(photo.Bgr.Width / factor);
        int height = (int)Math.Round(photo.Bgr.Height / factor);
        using Mat small = new();
        Cv2.Resize(photo.Bgr, small, new Size(width, height), 0, 0, InterpolationFlags.Area);
        Mat channels = new();
        using Mat real = new();
        small.ConvertTo(real, MatType.CV_32FC3);
        float[,] weights = { { 0.114f, 0.587f, 0.299f }, { 0.886f, -0.587f, -0.299f }, { -0.114f, -0.587f, 0.701f } };
        using Mat rows = Mat.FromArray(weights);
        Cv2.Transform(real, channels, rows);
        Mat masked = new(height, width, MatType.CV_8UC1, Scalar.Black);
        SearchImage image = new(channels, masked, plane, (double)photo.Bgr.Width / width);
        foreach (IReadOnlyList<Vec2> outline in cardOutlinesMm)
        {
            Point[] corners = [.. outline.Select(c => image.FromPhoto(plane.ToPhoto(c))).Select(p => new Point(p.X, p.Y))];
            Cv2.FillPoly(masked, [corners], Scalar.White);
        }

        return image;
    }

    public Vec2 ToPhoto(Vec2 searchPx) => new(((searchPx.X + 0.5) * PhotoPxPerPx) - 0.5, ((searchPx.Y + 0.5) * PhotoPxPerPx) - 0.5);

    public Vec2 FromPhoto(Vec2 photoPx) => new(((photoPx.X + 0.5) / PhotoPxPerPx) - 0.5, ((photoPx.Y + 0.5) / PhotoPxPerPx) - 0.5);

    public Vec2 ToPlane(Vec2 searchPx) => Plane.ToPlane(ToPhoto(searchPx));

    public Vec2 FromPlane(Vec2 planeMm) => FromPhoto(Plane.ToPhoto(planeMm));

    public bool Inside(Vec2 searchPx, double margin) =>
        searchPx.X >= margin && searchPx.Y >= margin && searchPx.X <= Width - 1 - margin && searchPx.Y <= Height - 1 - margin;

    public bool IsMasked(Vec2 searchPx) =>
        Inside(searchPx, 0) && Masked.At<byte>((int)Math.Round(searchPx.Y), (int)Math.Round(searchPx.X)) != 0;

    public void Dispose()
    {
        Channels.Dispose();
        Masked.Dispose();
    }
}

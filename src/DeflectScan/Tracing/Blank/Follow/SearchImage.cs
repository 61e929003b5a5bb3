using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Imaging;
using DeflectScan.Photos;
using OpenCvSharp;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// The photo made small enough to search: a whole number of photo pixels averaged into one, as luma and two colour differences (blue and
/// red against luma) so that a blank that is as bright as the wall still shows by its colour.
/// </summary>
internal sealed class SearchImage : IDisposable
{
    private SearchImage(Mat[] planes, Mat masked, RodPlane plane, int factor, double mmPerPx)
    {
        Planes = planes;
        Masked = masked;
        Plane = plane;
        PhotoPxPerPx = factor;
        MmPerPx = mmPerPx;
    }

    /// <summary>32-bit float: luma, blue minus luma, red minus luma, in 8-bit levels.</summary>
    public IReadOnlyList<Mat> Planes { get; }

    /// <summary>8-bit: 255 on cards, 0 elsewhere.</summary>
    public Mat Masked { get; }

    public RodPlane Plane { get; }

    /// <summary>Side of one search pixel in photo pixels.</summary>
    public int PhotoPxPerPx { get; }

    /// <summary>Scale at the picture's middle.</summary>
    public double MmPerPx { get; }

    public int Width => Masked.Width;

    public int Height => Masked.Height;

    /// <param name="photo">Upright photo.</param>
    /// <param name="plane">Plane of the rod.</param>
    /// <param name="cardOutlinesMm">What is masked.</param>
    /// <param name="coarsestMmPerPx">The largest scale allowed; the picture is made as small as that permits.</param>
    public static SearchImage Of(UprightPhoto photo, RodPlane plane, IReadOnlyList<IReadOnlyList<Vec2>> cardOutlinesMm, double coarsestMmPerPx)
    {
        double photoMmPerPx = plane.MmPerPx(plane.ToPlane(new Vec2(photo.Bgr.Width / 2.0, photo.Bgr.Height / 2.0)));
        int factor = (int)Math.Clamp(coarsestMmPerPx / photoMmPerPx, 1, 16);
        int width = photo.Bgr.Width / factor;
        int height = photo.Bgr.Height / factor;
        // What does not fill a whole search pixel at the right and lower edges is left out.
        using Mat whole = photo.Bgr[new Rect(0, 0, width * factor, height * factor)];
        using Mat small = new();
        Cv2.Resize(whole, small, new Size(width, height), 0, 0, InterpolationFlags.Area);
        Mat masked = new(height, width, MatType.CV_8UC1, Scalar.Black);
        SearchImage image = new(Differences(small), masked, plane, factor, photoMmPerPx * factor);
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

    public void Dispose()
    {
        foreach (Mat plane in Planes)
            plane.Dispose();
        Masked.Dispose();
    }

    private static unsafe Mat[] Differences(Mat bgr)
    {
        (int width, int height) = (bgr.Width, bgr.Height);
        Mat[] planes = [.. Enumerable.Range(0, 3).Select(_ => new Mat(height, width, MatType.CV_32FC1))];
        Parallel.For(0, height, y => DifferenceRow(
            (byte*)bgr.Ptr(y), (float*)planes[0].Ptr(y), (float*)planes[1].Ptr(y), (float*)planes[2].Ptr(y), width));
        return planes;
    }

    private static unsafe void DifferenceRow(byte* from, float* luma, float* blue, float* red, int width)
    {
        for (int x = 0; x < width; x++, from += 3)
        {
            float l = Luma.Of601(from[0], from[1], from[2]);
            luma[x] = l;
            blue[x] = from[0] - l;
            red[x] = from[2] - l;
        }
    }
}

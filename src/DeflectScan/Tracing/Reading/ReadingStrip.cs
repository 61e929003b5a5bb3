using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Imaging;
using OpenCvSharp;

namespace DeflectScan.Tracing.Reading;

/// <summary>The straightened picture beside the blank that the network reads: 8-bit BGR, <see cref="StripFrame.Rows"/> high.</summary>
internal static class ReadingStrip
{
    /// <summary>Photos finer than this, mm a px, are reduced first, so that no detail falls between the strip's samples.</summary>
    private const double FinestMm = 0.3;

    /// <summary>From -1 in the uppermost row to 1 in the lowest.</summary>
    private static readonly double[] Across = [.. Enumerable.Range(0, StripFrame.Rows).Select(r => (2.0 * r / (StripFrame.Rows - 1)) - 1)];

    /// <summary>Samples the strip; every column is the mean of two half a column apart. The caller disposes it.</summary>
    public static Mat Sample(Mat photoBgr, RodPlane plane, BlankAxis axis, StripFrame frame)
    {
        double pxMm = plane.MmPerPx(axis.Curve.Point(axis.Curve.Length / 2));
        int reduce = Math.Max(1, (int)Math.Round(FinestMm / pxMm));
        if (reduce == 1)
            return Sample(photoBgr, 1, plane, axis, frame);
        using Mat small = new();
        Cv2.Resize(photoBgr, small, new Size(photoBgr.Width / reduce, photoBgr.Height / reduce), 0, 0, InterpolationFlags.Area);
        return Sample(small, (double)photoBgr.Width / small.Width, plane, axis, frame);
    }

    private static Mat Sample(Mat bgr, double reduced, RodPlane plane, BlankAxis axis, StripFrame frame)
    {
        int half = 2 * frame.Columns;
        using Mat mapX = new(half, StripFrame.Rows, MatType.CV_32FC1);
        using Mat mapY = new(half, StripFrame.Rows, MatType.CV_32FC1);
        Parallel.For(0, half, c =>
        {
            double s = frame.Station((c / 2.0) - 0.25);
            MapColumn(plane, axis.Curve.Point(s), axis.Curve.Normal(s) * frame.InsideSign, reduced, mapX.AsSpanOfRow(c), mapY.AsSpanOfRow(c));
        });
        using Mat fine = new();
        Cv2.Remap(bgr, fine, mapX, mapY, InterpolationFlags.Linear, BorderTypes.Replicate);
        using Mat lying = new();
        Cv2.Resize(fine, lying, new Size(StripFrame.Rows, frame.Columns), 0, 0, InterpolationFlags.Area);
        Mat strip = new();
        Cv2.Transpose(lying, strip);
        return strip;
    }

    // Perspective and lens along 100 mm are a parabola to better than 0.02 px: three exact points a column.
    private static void MapColumn(RodPlane plane, Vec2 foot, Vec2 inside, double reduced, Span<float> x, Span<float> y)
    {
        Vec2 p0 = plane.ToPhoto(foot + (inside * StripFrame.Height(0)));
        Vec2 p1 = plane.ToPhoto(foot + (inside * StripFrame.Height((StripFrame.Rows - 1) / 2.0)));
        Vec2 p2 = plane.ToPhoto(foot + (inside * StripFrame.Height(StripFrame.Rows - 1)));
        Vec2 bend = p0 + p2 - (p1 * 2);
        Vec2 slope = p2 - p0;
        for (int r = 0; r < StripFrame.Rows; r++)
        {
            double t = Across[r];
            Vec2 p = p1 + (slope * (t / 2)) + (bend * (t * t / 2));
            x[r] = (float)(((p.X + 0.5) / reduced) - 0.5);
            y[r] = (float)(((p.Y + 0.5) / reduced) - 0.5);
        }
    }
}

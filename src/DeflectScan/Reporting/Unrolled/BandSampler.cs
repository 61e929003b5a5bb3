using DeflectScan.Geometry;
using OpenCvSharp;

namespace DeflectScan.Reporting.Unrolled;

/// <summary>Takes the band's pixels out of the photo, through the rod plane.</summary>
internal static class BandSampler
{
    private const int RowStep = 24;

    /// <summary>The straightened band as BGR, <see cref="Unrolling.WidthPx"/> by <see cref="Unrolling.HeightPx"/>. Dispose it.</summary>
    public static Mat Sample(Mat bgr, Unrolling unrolling)
    {
        // A large photo is halved until about one of its pixels meets one of the strip's, or thin things would break up.
        Vec2 a = unrolling.Plane.ToPhoto(unrolling.ToPlane(new Vec2(unrolling.ToMm / 2, 0)));
        Vec2 b = unrolling.Plane.ToPhoto(unrolling.ToPlane(new Vec2((unrolling.ToMm / 2) + 10, 0)));
        int shrink = Math.Max(1, (int)(a.DistanceTo(b) / (10 * unrolling.PxPerMm)));
        (float[] x, float[] y) = Map(unrolling, shrink);
        using Mat mapX = Mat.FromPixelData(unrolling.HeightPx, unrolling.WidthPx, MatType.CV_32FC1, x);
        using Mat mapY = Mat.FromPixelData(unrolling.HeightPx, unrolling.WidthPx, MatType.CV_32FC1, y);
        Mat band = new();
        if (shrink == 1)
        {
            Cv2.Remap(bgr, band, mapX, mapY, InterpolationFlags.Linear, BorderTypes.Constant, Scalar.All(32));
            return band;
        }

        using Mat small = new();
        Cv2.Resize(bgr, small, new OpenCvSharp.Size(bgr.Cols / shrink, bgr.Rows / shrink), 0, 0, InterpolationFlags.Area);
        Cv2.Remap(small, band, mapX, mapY, InterpolationFlags.Linear, BorderTypes.Constant, Scalar.All(32));
        return band;
    }

    /// <summary>Photo px of every strip pixel: exact at the columns and every few rows, linear between (under 0.01 px off for phone lenses).</summary>
    private static (float[] X, float[] Y) Map(Unrolling unrolling, int shrink)
    {
        (int rows, int columns) = (unrolling.HeightPx, unrolling.WidthPx);
        int knots = ((rows - 1) / RowStep) + 2;
        float[] x = new float[rows * columns];
        float[] y = new float[rows * columns];
        Vec2[] column = new Vec2[knots];
        for (int c = 0; c < columns; c++)
        {
            Vec2 foot = unrolling.ToPlane(unrolling.FromStrip(c + 0.5, 0.5));
            Vec2 end = unrolling.ToPlane(unrolling.FromStrip(c + 0.5, 0.5 + (RowStep * (knots - 1))));
            for (int k = 0; k < knots; k++)
                column[k] = unrolling.Plane.ToPhoto(Vec2.Lerp(foot, end, (double)k / (knots - 1)));
            for (int r = 0; r < rows; r++)
            {
                Vec2 px = Vec2.Lerp(column[r / RowStep], column[(r / RowStep) + 1], (double)(r % RowStep) / RowStep);
                // Shrunk photo: the centre of its pixel 0 lies at (shrink - 1) / 2 of the whole one.
                x[(r * columns) + c] = (float)((px.X - ((shrink - 1) / 2.0)) / shrink);
                y[(r * columns) + c] = (float)((px.Y - ((shrink - 1) / 2.0)) / shrink);
            }
        }

        return (x, y);
    }
}

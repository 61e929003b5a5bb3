using DeflectScan.Geometry;
using OpenCvSharp;

namespace DeflectScan.Calibration.Cards;

/// <summary>A projective map of the plane (homography), row-major.</summary>
internal sealed class PlaneMap(double[] h)
{
    /// <summary>The nine entries, row-major.</summary>
    public IReadOnlyList<double> Entries => h;

    /// <summary>Least-squares map of point pairs (OpenCV's normalised DLT with refinement); null when they do not fix one.</summary>
    public static PlaneMap? Fit(IReadOnlyList<Vec2> from, IReadOnlyList<Vec2> to)
    {
        if (from.Count < 4)
            return null;
        using Mat m = Cv2.FindHomography(from.Select(p => new Point2d(p.X, p.Y)), to.Select(p => new Point2d(p.X, p.Y)));
        if (m.Empty())
            return null;
        double[] entries = new double[9];
        for (int i = 0; i < 9; i++)
            entries[i] = m.At<double>(i / 3, i % 3);
        return entries.All(double.IsFinite) ? new PlaneMap(entries) : null;
    }

    public Vec2 Map(Vec2 p)
    {
        double w = (h[6] * p.X) + (h[7] * p.Y) + h[8];
        return new Vec2(((h[0] * p.X) + (h[1] * p.Y) + h[2]) / w, ((h[3] * p.X) + (h[4] * p.Y) + h[5]) / w);
    }
}

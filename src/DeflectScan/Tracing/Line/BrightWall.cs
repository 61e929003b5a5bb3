using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using OpenCvSharp;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// Where the wall beside the blank is burnt out, a thin line and pale rings vanish in it without a trace, and what is not found there cannot be
/// told from what is not there.
/// </summary>
internal static class BrightWall
{
    private const double StepMm = 5;
    private const double FarthestMm = 45; // from the axis, both sides
    private const byte Full = 253; // of 255, in every channel: nothing brighter can be told there

    /// <summary>Share of the places beside the blank from which a person has to look; clear photographs of the tests have none.</summary>
    private const double LargestShare = 0.15;

    public static void Add(List<Finding> findings, UprightPhoto photo, RodPlane plane, BlankAxis axis)
    {
        if (Share(photo.Bgr, plane, axis) > LargestShare)
        {
            findings.Add(Finding.Review(
                FindingCode.LowContrast,
                "The wall beside the blank is burnt out to white, where a line or a ring can vanish: take the photo darker, or count the guides on the overlay."));
        }
    }

    /// <summary>Share of the places beside the blank where every channel is full.</summary>
    public static double Share(Mat bgr, RodPlane plane, BlankAxis axis)
    {
        int seen = 0;
        int full = 0;
        for (double s = 0; s < axis.Curve.Length; s += StepMm)
        {
            (Vec2 at, Vec2 normal) = (axis.Curve.Point(s), axis.Curve.Normal(s));
            for (double off = -FarthestMm; off <= FarthestMm; off += StepMm)
            {
                Vec2 px = plane.ToPhoto(at + (normal * off));
                (int x, int y) = ((int)Math.Round(px.X), (int)Math.Round(px.Y));
                if (x < 0 || y < 0 || x >= bgr.Cols || y >= bgr.Rows)
                    continue;
                Vec3b colour = bgr.At<Vec3b>(y, x);
                seen++;
                if (Math.Min(colour.Item0, Math.Min(colour.Item1, colour.Item2)) >= Full)
                    full++;
            }
        }

        return seen == 0 ? 0 : (double)full / seen;
    }
}

using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Blank;

/// <summary>Whether the traced bar's ends are where it leaves the frame rather than where it ends.</summary>
/// <param name="AtTip">The tip's end runs out of the frame.</param>
/// <param name="AtButt">The butt's end does.</param>
internal sealed record FrameExit(bool AtTip, bool AtButt)
{
    private const double LookMm = 16; // an end this near to the frame's edge cannot be told from a cut one
    private const double RoughMm = 45; // the same for an end that is not sure
    private const double MarginPx = 5; // what an edge's background needs

    public static FrameExit Of(UprightPhoto photo, RodPlane plane, RodCandidate rod, double mmPerPx)
    {
        TracedBar tip = rod.Bar.Extended(LookMm + 16, 120);
        TracedBar butt = rod.Bar.Reversed().Extended(LookMm + 16, 120);
        bool unsure = rod.EndsLogProbability < AxisFindings.SureEnds;
        if (unsure && MayLeave(photo, plane, rod.Bar, mmPerPx))
            return new FrameExit(true, Leaves(photo, plane, butt, rod.Bar.Length, mmPerPx));
        return new FrameExit(Leaves(photo, plane, tip, rod.Bar.Length, mmPerPx), Leaves(photo, plane, butt, rod.Bar.Length, mmPerPx));
    }

    /// <summary>Whether a roughly known bar's last end comes so near to the frame's edge that it may go on beyond it.</summary>
    public static bool MayLeave(UprightPhoto photo, RodPlane plane, TracedBar bar, double mmPerPx) =>
        Leaves(photo, plane, bar.Extended(RoughMm + 16, 120), bar.Length, mmPerPx, RoughMm);

    private static bool Leaves(UprightPhoto photo, RodPlane plane, TracedBar bar, double end, double mmPerPx, double lookMm = LookMm)
    {
        double across = bar.Radius(end) + (MarginPx * mmPerPx);
        for (double s = end - (2 * ProfileBand.RowsPerStation * mmPerPx); s <= end + lookMm; s += 2)
        {
            Vec2 at = bar.Curve.Point(s);
            Vec2 normal = bar.Curve.Normal(s) * across;
            if (Outside(photo, plane.ToPhoto(at + normal)) || Outside(photo, plane.ToPhoto(at - normal)))
                return true;
        }

        return false;
    }

    private static bool Outside(UprightPhoto photo, Vec2 px) =>
        px.X < 1 || px.Y < 1 || px.X > photo.Bgr.Width - 2 || px.Y > photo.Bgr.Height - 2;
}

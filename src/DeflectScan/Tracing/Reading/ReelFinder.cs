using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Reading;

/// <summary>
/// The reel's front from what the network says of the strip: its surest place on the axis, which is carried straight on into the handle. No reel seen is a
/// result of its own.
/// </summary>
internal static class ReelFinder
{
    /// <summary>
    /// Least log-odds, calibrated, of a reel: 0 of the map itself. On 160 scenes that were not trained on its highest cell was at -0.5 or more in
    /// 99 % of those with a reel, and at -0.6 or less in all 29 without one.
    /// </summary>
    private const double LeastLogOdds = 2.07;

    /// <summary>The network was taught to point at the axis: what it says so far from it, mm, is something else.</summary>
    private const double OnAxisMm = 10;

    /// <summary>Two places this far apart, mm, are two reels, and it is not known which one is the rod's: twice a guide's least distance in <see cref="Peaks"/>.</summary>
    private const double OtherReelMm = 24;

    /// <summary>
    /// Standard uncertainty of the reading, mm: 4.7 mm at 95 % of the same scenes. What is seen of a round front from the side is part of it: the network learnt on
    /// reels with round rims.
    /// </summary>
    private const double ReadSdMm = 2.4;

    /// <summary>
    /// The reel's front is seen up to about this far from the axis, mm (foot to spool's rim, common practice, no source): by a lever so long, what the axis
    /// is turned moves its foot on the axis.
    /// </summary>
    private const double LeverMm = 60;

    /// <summary>Length of the last traced stretch that says how the axis goes on, mm (chosen).</summary>
    private const double LastMm = 60;

    /// <summary>The reel's front; null where none is seen, or more than one.</summary>
    public static ReelFront? Find(StripReading reading, BlankAxis axis, RodPlane plane, PhotoInfo photo)
    {
        RingCandidate[] seen = [.. Peaks.Of(reading, reading.Reel, LeastLogOdds).Where(p => Math.Abs(p.HeightMm) < OnAxisMm)];
        if (seen.Length == 0 || seen.Any(p => Math.Abs(p.Station - seen[0].Station) > OtherReelMm))
            return null;
        Vec2 at = axis.Curve.Point(seen[0].Station);
        Vec2 px = plane.ToPhoto(at);
        if (px.X < 0 || px.Y < 0 || px.X > photo.WidthPx - 1 || px.Y > photo.HeightPx - 1)
            return null;
        return new ReelFront(at, Math.Sqrt(Square(ReadSdMm) + Square(LeverMm * TiltSd(axis, seen[0].Station))));
    }

    /// <summary>
    /// Beneath the handle the blank goes on bending, from as much as before it down to nothing at the clamp: against the straight continuation the axis is turned
    /// by anything from 0 to curvature times way (uniform, JCGM 100:2008, 4.3.7). The direction at the last traced stretch's end has its own uncertainty.
    /// </summary>
    private static double TiltSd(BlankAxis axis, double station)
    {
        double end = Math.Min(axis.HandleStationMm, axis.Curve.Length);
        double start = Math.Max(0, end - LastMm);
        Vec2 before = axis.Curve.Tangent(start);
        Vec2 after = axis.Curve.Tangent(end);
        double turn = Math.Abs(Math.Atan2(before.Cross(after), before.Dot(after))) / (end - start) * Math.Max(0, station - end);
        double hidden = turn / Math.Sqrt(12);
        double direction = Math.Sqrt(2) * axis.LocalSd(end) / LastMm;
        return Math.Sqrt(Square(hidden) + Square(direction));
    }

    private static double Square(double v) => v * v;
}

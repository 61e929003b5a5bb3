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
    /// Least log-odds, calibrated, of a reel: 0 of the map itself. On 130 scenes that were not trained on its highest cell was at 0.67 or more in
    /// 99 % of those with a reel, and at -1.56 or less in all without one.
    /// </summary>
    private const double LeastLogOdds = 2.37;

    /// <summary>The network was taught to point at the axis: what it says so far from it, mm, is something else.</summary>
    private const double OnAxisMm = 10;

    /// <summary>Two places this far apart, mm, are two reels, and it is not known which one is the rod's: twice a guide's least distance in <see cref="Peaks"/>.</summary>
    private const double OtherReelMm = 24;

    /// <summary>Standard uncertainty of the better reading on an exact axis, mm: on 120 held-back strips in which both see a reel the other network is 8 mm off at 95 %, and what both miss alike comes to it.</summary>
    private const double ReadSdMm = 4.5;

    /// <summary>
    /// The reel's front is seen up to about this far from the axis, mm (foot to spool's rim, common practice, no source): by a lever so long, what the axis
    /// is turned moves its foot on the axis.
    /// </summary>
    private const double LeverMm = 60;

    /// <summary>
    /// A reel's front is round, its rim up to so far before and behind the rod's plane, mm (a large spool's radius, half a casting frame's width: common
    /// practice, no source). Seen from the side, its foremost outline lies ahead of it by rim times the view's slope; what the network points at, which learnt
    /// on bodies drawn with square ends, lies between the two (uniform, JCGM 100:2008, 4.3.7).
    /// </summary>
    private const double RimMm = 25;

    /// <summary>Length of the last traced stretch that says how the axis goes on, mm (chosen).</summary>
    private const double LastMm = 60;

    /// <summary>
    /// Least log-odds, calibrated, of there being a reel, by the network that reads all else: -0.46 of its map. On 321 scenes that were not trained on its highest cell
    /// was at that or more in 93 % of those with a reel, and at -0.50 or less in all 65 without one.
    /// </summary>
    private const double LeastSeen = 0.73;

    /// <summary>
    /// The two networks learnt on reels with square and with round fronts: on reels of the other kind each is wrong, by 20 to 50 mm at times, and mostly one of
    /// them is right. So much of their difference is a standard uncertainty: with <see cref="ReadSdMm"/> 93 in 100 of the same strips lie within two.
    /// </summary>
    private const double DifferenceShare = 0.6;

    /// <summary>Where the network that reads all else sees the reel's front, mm from the axis' end; null where it sees no reel.</summary>
    public static double? Seen(StripReading reading) => Peaks.Of(reading, reading.Reel, LeastSeen) is [var first, ..] ? first.Station : null;

    /// <summary>The reel's front; null where none is seen, or more than one.</summary>
    /// <param name="reading">What the reel's network says.</param>
    /// <param name="otherStation">Where the other network sees the front, mm from the axis' end.</param>
    /// <param name="axis">The traced blank.</param>
    /// <param name="plane">The plane that it lies in.</param>
    /// <param name="photo">The photo, outside of which no front is said.</param>
    public static ReelFront? Find(StripReading reading, double otherStation, BlankAxis axis, RodPlane plane, PhotoInfo photo)
    {
        RingCandidate[] seen = [.. Peaks.Of(reading, reading.Reel, LeastLogOdds).Where(p => Math.Abs(p.HeightMm) < OnAxisMm)];
        if (seen.Length == 0 || seen.Any(p => Math.Abs(p.Station - seen[0].Station) > OtherReelMm))
            return null;
        Vec2 at = axis.Curve.Point(seen[0].Station);
        Vec2 px = plane.ToPhoto(at);
        if (px.X < 0 || px.Y < 0 || px.X > photo.WidthPx - 1 || px.Y > photo.HeightPx - 1)
            return null;
        double ahead = RimMm * ViewSlope(at, axis.Curve.Tangent(seen[0].Station), plane);
        double sd = Math.Sqrt(Square(ReadSdMm) + Square(ahead / Math.Sqrt(12)) + Square(LeverMm * TiltSd(axis, seen[0].Station)) + Square(DifferenceShare * (seen[0].Station - otherStation)));
        return new ReelFront(axis.Curve.Point(seen[0].Station + (ahead / 2)), sd);
    }

    // How far the view of a place leans along the blank: the tangent of its angle against the plane's normal.
    private static double ViewSlope(Vec2 at, Vec2 along, RodPlane plane)
    {
        (Vec2 foot, double height) = plane.CameraPosition();
        return Math.Abs((at - foot).Dot(along) / height);
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

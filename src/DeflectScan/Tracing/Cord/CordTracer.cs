using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Imaging;
using DeflectScan.Photos;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Tracing.Cord;

/// <summary>
/// Traces the tie-off cord: rays from the tip into the inside of the bend are searched for a straight bar that passes the tip, the strongest
/// ways are read as straight bands, and one centreline is fitted to both edges of all blocks.
/// </summary>
public static class CordTracer
{
    private const double PlumbRad = 1.5 * Math.PI / 180;
    private const double WeightMm = 80; // how far the weight and its swivel reach beyond the line's seen end
    private const double FaintShare = 0.6;

    /// <summary>The cord, or null when none is seen: then the pull's direction has to be given.</summary>
    /// <param name="photo">The upright photo.</param>
    /// <param name="plane">The rod plane.</param>
    /// <param name="axis">The blank, its station 0 at the tip.</param>
    /// <param name="hangEndMm">Where the line under its weight hangs to, when seen: a bar in that direction that goes no further is the line.</param>
    /// <param name="options">Null for the defaults.</param>
    public static CordTrace? Trace(UprightPhoto photo, RodPlane plane, BlankAxis axis, Vec2? hangEndMm, CordOptions? options = null)
    {
        options ??= new CordOptions();
        Vec2 tip = axis.Curve.Point(0);
        Vec2 out0 = -axis.Curve.Tangent(0);

        // Towards the inside of the bend: the sense in which the tangent turns on the way out to the tip.
        double sense = Math.Sign(axis.Curve.Tangent(axis.Curve.Length).Cross(axis.Curve.Tangent(0)));
        double forward = Math.Atan2(out0.Y, out0.X);
        double a = forward + (sense * options.FromTurnDeg * Math.PI / 180);
        double b = forward + (sense * options.ToTurnDeg * Math.PI / 180);
        PhotoSampler sampler = new(photo.Bgr);
        if (!sampler.Contains(plane.ToPhoto(tip), 4))
            return null;
        CordFan fan = CordFan.Read(sampler, plane, tip, Math.Min(a, b), Math.Max(a, b), options);
        List<CordWay> ways = fan.Strongest(options.OffsetMm);
        (CordTrace Trace, double Weight)? best = null;
        foreach (CordWay way in ways)
        {
            // Plain and long enough already, and what is left is much fainter.
            if (best is { } found && found.Trace.Support > 0.8 && found.Trace.LengthMm > 150 && way.Score < FaintShare * ways[0].Score)
                break;
            CordStrip strip = CordStrip.Read(sampler, plane, way, options);
            CordBar bar = CordBarSearch.Find(strip, options);
            if (bar.Score <= 0 || CordFit.Of(strip, bar, options) is not { } cord || IsLine(cord, tip, hangEndMm) || MissesTip(cord, tip, options))
                continue;
            double weight = cord.LengthMm * cord.Support * way.Score;
            if (best is null || weight > best.Value.Weight)
                best = (cord, weight);
        }

        return best?.Trace;
    }

    // The line under its weight: it hangs plumb and ends at the weight.
    private static bool IsLine(CordTrace cord, Vec2 tip, Vec2? hangEndMm)
    {
        if (hangEndMm is not { } end)
            return false;
        Vec2 hang = (end - tip).Normalized();
        Vec2 along = (cord.FarMm - cord.NearMm).Normalized();
        return Math.Abs(hang.TurnTo(along)) < PlumbRad && cord.FarMm.DistanceTo(tip) < end.DistanceTo(tip) + WeightMm;
    }

    private static bool MissesTip(CordTrace cord, Vec2 tip, CordOptions options) =>
        Math.Abs((cord.FarMm - cord.NearMm).Normalized().Cross(tip - cord.NearMm)) > options.OffsetMm + 1;
}

using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Measuring.Figures;
using DeflectScan.Tracing;

namespace DeflectScan.Measuring;

/// <summary>Turns the traced cord, or what a person told of the pull, into the document's figures.</summary>
internal static class PullBuilder
{
    /// <summary>
    /// The anchor stands some mm before or behind the rod plane, so the cord's picture is turned a little (standard uncertainty in degrees;
    /// 5 mm over a cord of 800 mm, seen 500 mm off the camera's foot at 1.6 m; common practice, no source).
    /// </summary>
    private const double AnchorSdDeg = 0.1;

    /// <summary>How well a person reads an angle off a photo, one standard uncertainty in degrees; common practice, no source.</summary>
    private const double ReadSdDeg = 0.5;

    /// <summary>The report, or null when the pull is neither seen nor told.</summary>
    public static PullReport? Build(CordTrace? cord, PlaneTrace trace, LineTrace line, RodPlane plane, MeasureOptions options)
    {
        double? plumb = line.HangEndMm is { } end ? DegreesOf(end - trace.ContactsMm[^1]) : null;
        if (options.PullDirectionDeg is { } told)
            return new PullReport(Source.Marked, InPlane(told, trace.Axis.Curve.Point(0), plane), LayoutUncertainty.Coverage * ReadSdDeg, plumb, options.LoadN, []);
        if (cord is null)
            return options.LoadN is null && plumb is null ? null : new PullReport(null, null, null, plumb, options.LoadN, []);
        Vec2[] px = [plane.ToPhoto(cord.NearMm), plane.ToPhoto(cord.FarMm)];
        double sd = Math.Sqrt((cord.DirectionSdDeg * cord.DirectionSdDeg) + (AnchorSdDeg * AnchorSdDeg) + FromPlane(trace.Axis.Curve, px, cord, plane));
        return new PullReport(Source.Traced, cord.DirectionDeg, LayoutUncertainty.Coverage * sd, plumb, options.LoadN, px);
    }

    // Variance in square degrees of the cord's direction against the blank's.
    private static double FromPlane(ArcCurve axis, Vec2[] cordPx, CordTrace cord, RodPlane plane)
    {
        Vec2[] points = [.. Enumerable.Range(0, 21).Select(i => axis.Point(axis.Length * i / 20))];
        Vec2[] px = [.. points.Select(plane.ToPhoto)];
        Vec2 direction = cord.FarMm - cord.NearMm;
        double sum = 0;
        foreach (RodPlane variant in plane.Variants)
        {
            RigidMotion motion = RigidMotion.Fit([.. px.Select(variant.ToPlane)], points);
            Vec2 there = motion.Turn(variant.ToPlane(cordPx[1]) - variant.ToPlane(cordPx[0]));
            double turned = direction.TurnTo(there) * 180 / Math.PI;
            sum += turned * turned;
        }

        return sum;
    }

    // The photo's y points down, the angle is told with y up.
    private static double InPlane(double photoDeg, Vec2 tipMm, RodPlane plane)
    {
        const double StepPx = 50;
        (double sin, double cos) = Math.SinCos(photoDeg * Math.PI / 180);
        Vec2 px = plane.ToPhoto(tipMm);
        return DegreesOf(plane.ToPlane(px + new Vec2(StepPx * cos, -StepPx * sin)) - tipMm);
    }

    private static double DegreesOf(Vec2 v) => Math.Atan2(v.Y, v.X) * 180 / Math.PI;
}

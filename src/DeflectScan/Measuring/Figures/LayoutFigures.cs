using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Tracing;

namespace DeflectScan.Measuring.Figures;

/// <summary>Every figure of one trace in one rod plane: what the uncertainty is propagated through.</summary>
/// <param name="Shape">The blank, station 0 at the tip-top.</param>
/// <param name="Layout">Its rings and intervals.</param>
internal sealed record LayoutFigures(BlankShape Shape, LayoutResult Layout)
{
    public static LayoutFigures Of(PlaneTrace trace, GuideSide side, Vec2? lineFromMm = null, Vec2? lineToMm = null) =>
        Of(new BlankShape(trace.Axis.Curve, trace.Axis.RadiusMm), trace.ContactsMm, side, lineFromMm, lineToMm);

    public static LayoutFigures Of(
        BlankShape shape, IReadOnlyList<Vec2> contactsMm, GuideSide side, Vec2? lineFromMm = null, Vec2? lineToMm = null) =>
        new(shape, LayoutRule.Evaluate(shape, [.. contactsMm.Select(c => RingPoint.Seen(shape, c))], side, lineFromMm, lineToMm));

    /// <summary>
    /// All figures in one row, in mm: station and height of every ring, then gap, bow and clearance of every pair, then the traced length.
    /// </summary>
    public double[] Row() =>
    [
        .. Layout.Rings.Select(r => r.StationMm),
        .. Layout.Rings.Select(r => r.DistanceMm),
        .. Layout.Intervals.Select(i => i.GapMm),
        .. Layout.Intervals.Select(i => i.BowMm),
        .. Layout.Intervals.Select(i => i.ClearanceMm),
        Shape.LengthMm,
    ];
}

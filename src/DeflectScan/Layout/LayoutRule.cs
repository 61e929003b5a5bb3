using DeflectScan.Geometry;

namespace DeflectScan.Layout;

/// <summary>All figures of one layout on one bent blank.</summary>
/// <param name="Rings">From the reel to the tip-top.</param>
/// <param name="Intervals">Interval i joins ring i and ring i + 1.</param>
/// <param name="LineAnglesDeg">
/// The angle that the line turns through at each ring, positive towards the inside of the bend; null at the first and the last ring
/// when it is not known where the line comes from or goes to.
/// </param>
/// <param name="LargestGap">Index of the interval with the largest gap.</param>
/// <param name="LargestBow">Index of the interval with the largest bow.</param>
public sealed record LayoutResult(
    IReadOnlyList<RingPoint> Rings,
    IReadOnlyList<Interval> Intervals,
    IReadOnlyList<double?> LineAnglesDeg,
    int LargestGap,
    int LargestBow);

/// <summary>
/// Judges a layout: the line is taut and the axis does not change when guides move, so every layout on a measured bend is computed, not guessed.
/// </summary>
public static class LayoutRule
{
    /// <summary>The layout's intervals and line angles.</summary>
    /// <param name="shape">The blank.</param>
    /// <param name="rings">At least two, from the reel to the tip-top.</param>
    /// <param name="side">Side of the bend that the guides stand on.</param>
    /// <param name="lineFromMm">A point of the line before the first ring, rod-plane mm, if known.</param>
    /// <param name="lineToMm">A point of the line beyond the tip-top, rod-plane mm, if known.</param>
    public static LayoutResult Evaluate(
        BlankShape shape, IReadOnlyList<RingPoint> rings, GuideSide side, Vec2? lineFromMm = null, Vec2? lineToMm = null)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(rings.Count, 2);
        Interval[] intervals = new Interval[rings.Count - 1];
        int gap = 0, bow = 0;
        for (int i = 0; i < intervals.Length; i++)
        {
            intervals[i] = IntervalRule.Measure(shape, rings[i], rings[i + 1], side);
            gap = intervals[i].GapMm > intervals[gap].GapMm ? i : gap;
            bow = intervals[i].BowMm > intervals[bow].BowMm ? i : bow;
        }

        double?[] angles = new double?[rings.Count];
        for (int i = 0; i < angles.Length; i++)
        {
            Vec2? before = i > 0 ? rings[i - 1].PointMm : lineFromMm;
            Vec2? after = i + 1 < rings.Count ? rings[i + 1].PointMm : lineToMm;
            if (before is { } from && after is { } to)
                angles[i] = LineAngleDeg(shape, from, rings[i].PointMm, to);
        }

        return new LayoutResult([.. rings], intervals, angles, gap, bow);
    }

    /// <summary>The angle in degrees that a line from the reel to the tip turns through at <paramref name="ring"/>, positive towards the inside.</summary>
    public static double LineAngleDeg(BlankShape shape, Vec2 before, Vec2 ring, Vec2 after)
    {
        Vec2 into = ring - before;
        Vec2 onward = after - ring;

        // s runs from the tip to the butt, the line from the reel to the tip: the sense of turning is the opposite one.
        return -shape.InsideSign * into.TurnTo(onward) * 180 / Math.PI;
    }
}

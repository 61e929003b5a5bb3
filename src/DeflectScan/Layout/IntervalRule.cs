using DeflectScan.Geometry;

namespace DeflectScan.Layout;

/// <summary>
/// Gap, clearance and bow of one pair of ring points on a bent blank. Between two rings every point of the straight line has its own nearest
/// axis point, so instead of searching for it, the axis's normals are cut with the line: d(s) is how far along the normal at s the line lies.
/// Where the bend between both rings is so strong that a normal runs nearly along the line, the nearest axis points are searched for instead.
/// </summary>
public static class IntervalRule
{
    /// <summary>Least cosine between an axis normal and the line's normal for cutting normals; below it nearest points are searched for.</summary>
    private const double LeastCosine = 0.35;

    /// <summary>The pair's figures; see <see cref="Interval"/>.</summary>
    /// <param name="shape">The blank.</param>
    /// <param name="a">Ring point nearer to the reel.</param>
    /// <param name="b">Ring point nearer to the tip.</param>
    /// <param name="side">Side of the bend that the guides stand on: says which way the blank is in the way.</param>
    public static Interval Measure(BlankShape shape, RingPoint a, RingPoint b, GuideSide side)
    {
        double from = Math.Min(a.StationMm, b.StationMm);
        double to = Math.Max(a.StationMm, b.StationMm);
        Peak bow = Bow(shape, from, to);
        double chord = a.PointMm.DistanceTo(b.PointMm);
        (Peak gap, Peak clearance, Peak lowest) = chord > 0 && to > from
            ? Chord.Extremes(shape, a.PointMm, (b.PointMm - a.PointMm) / chord, chord, from, to, shape.SignOf(side), LeastCosine)
            : Alone(shape, a);
        return new Interval(
            chord, gap.Value, gap.At, bow.Value, bow.At, clearance.Value, clearance.At, Math.Max(0, -lowest.Value), clearance.Value <= 0);
    }

    /// <summary>The largest distance in mm of the axis between two stations from the straight chord of its points there.</summary>
    internal static Peak Bow(BlankShape shape, double from, double to)
    {
        Vec2 start = shape.Axis.Point(from);
        Vec2 along = (shape.Axis.Point(to) - start).Normalized();
        Peak best = new(from, 0);
        (int first, int last) = shape.Between(from, to);
        ReadOnlySpan<ShapeSample> samples = shape.Samples;
        for (int i = first; i <= last; i++)
        {
            double d = Math.Abs(along.Cross(samples[i].Point - start));
            if (d > best.Value)
                best = new(samples[i].S, d);
        }

        if (first > last)
            best = new((from + to) / 2, Math.Abs(along.Cross(shape.Axis.Point((from + to) / 2) - start)));
        return Peak.Refine(
            s => Math.Abs(along.Cross(shape.Axis.Point(s) - start)),
            Math.Max(from, best.At - shape.StepMm),
            Math.Min(to, best.At + shape.StepMm),
            best);
    }

    private static (Peak Gap, Peak Clearance, Peak Lowest) Alone(BlankShape shape, RingPoint ring)
    {
        Peak only = new(ring.StationMm, ring.DistanceMm - shape.RadiusMm(ring.StationMm));
        return (only, only, only);
    }
}

using DeflectScan.Geometry;

namespace DeflectScan.Layout.Spacing;

/// <summary>
/// The bow between any two nodes, in the logarithm of their distance: over a piece of one sense of turning the distance from a chord
/// is largest where the tangent runs along the chord, and the tangent's angle being monotone there, that place is found by bisection.
/// </summary>
internal sealed class BowCosts(SpacingNodes nodes) : IEdgeCosts
{
    private readonly ShapeSample[] _samples = nodes.Samples;

    // Bisection needs every tangent of a pair within half a turn of its chord; beyond that each sample is looked at.
    private readonly bool _mayBisect = nodes.TotalTurnRad < Math.PI * 0.98;

    private readonly Dictionary<int, (int End, double Floor)> _arcs = [];

    public double Least => 0;

    public (double Cost, double Floor) Edge(int tipward, int buttward, double limit)
    {
        int a = nodes.SampleOf[tipward];
        int b = nodes.SampleOf[buttward];
        (double bow, double floor) = Between(a, b);
        if (bow <= limit)
            return (bow, floor);

        (int end, double arcFloor) = Arc(a);
        return (bow, b <= end ? Math.Max(floor, Math.Min(bow, arcFloor)) : floor);
    }

    /// <summary>
    /// The convex arc that starts at a sample: its last sample, and the floor under every interval that goes beyond it. Within it every longer
    /// chord bows more.
    /// </summary>
    internal (int End, double Floor) Arc(int sample)
    {
        if (_arcs.TryGetValue(sample, out (int End, double Floor) arc))
            return arc;
        int end = nodes.ConvexEnd(sample);
        return _arcs[sample] = (end, end == _samples.Length - 1 ? double.PositiveInfinity : Between(sample, end).Floor);
    }

    /// <summary>Bow between two samples, and the floor under that of every longer interval from the first.</summary>
    internal (double Bow, double Floor) Between(int a, int b)
    {
        Vec2 start = _samples[a].Point;
        Vec2 chord = _samples[b].Point - start;
        double length = chord.Length;
        if (length <= 0)
            return (0, 0);
        Vec2 along = chord / length;
        (double bow, int at) = _mayBisect ? ByPieces(a, b, start, along) : ByScan(a, b, start, along);

        // Every longer chord starts at the same point. A line through that point leaves either the bow's place or this end at least half
        // the bow's triangle away, so no longer interval can bow less than this.
        double reach = Math.Max(length, (_samples[at].Point - start).Length);
        return (bow, bow * length / (2 * reach));
    }

    private (double Bow, int At) ByPieces(int a, int b, Vec2 start, Vec2 along)
    {
        double best = 0;
        int bestAt = a;
        for (int from = a; from < b;)
        {
            int to = Math.Min(nodes.PieceEnd[from], b);
            int sense = Math.Sign(_samples[from].Tangent.Cross(_samples[to].Tangent));
            int lo = from, hi = to;
            while (hi - lo > 1)
            {
                int middle = (lo + hi) >> 1;
                if (along.Cross(_samples[middle].Tangent) * sense < 0)
                    lo = middle;
                else
                    hi = middle;
            }

            double value = Math.Abs(Stationary(lo, hi, start, along));
            if (value > best)
                (best, bestAt) = (value, lo);
            from = to;
        }

        return (best, bestAt);
    }

    private (double Bow, int At) ByScan(int a, int b, Vec2 start, Vec2 along)
    {
        double best = 0;
        int bestAt = a;
        for (int i = a; i < b; i++)
        {
            double value = Math.Abs(Stationary(i, i + 1, start, along));
            if (value > best)
                (best, bestAt) = (value, i);
        }

        return (best, bestAt);
    }

    /// <summary>The signed distance from the chord where the tangent runs along it between two neighbouring samples; at an end when it does not.</summary>
    private double Stationary(int lo, int hi, Vec2 start, Vec2 along)
    {
        double slope0 = along.Cross(_samples[lo].Tangent);
        double slope1 = along.Cross(_samples[hi].Tangent);
        double d0 = along.Cross(_samples[lo].Point - start);
        double d1 = along.Cross(_samples[hi].Point - start);
        if (slope0 * slope1 >= 0)
            return Math.Abs(d0) > Math.Abs(d1) ? d0 : d1;

        // The distance's slope is the sine of the tangent's angle to the chord, taken as linear over one sample.
        double t = slope0 / (slope0 - slope1) * (_samples[hi].S - _samples[lo].S);
        return d0 + (slope0 * t / 2);
    }
}

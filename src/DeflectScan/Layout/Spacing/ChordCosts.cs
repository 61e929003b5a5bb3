using DeflectScan.Geometry;

namespace DeflectScan.Layout.Spacing;

/// <summary>
/// The bow or the gap between any two nodes: how far the straight line between two points beside the axis leaves it. Over a piece of one
/// sense of turning that distance has one peak, where the tangent runs along the line, and the tangent's angle being monotone there, the
/// peak is found by bisection.
/// </summary>
internal sealed class ChordCosts : IEdgeCosts
{
    private const double LeastCosine = 0.35;
    private const int Block = 8;
    private readonly SpacingNodes _nodes;
    private readonly ShapeSample[] _samples;
    private readonly Vec2[] _rings;
    private readonly double[] _radius;
    private readonly double[] _leastRadiusFrom;
    private readonly double[] _leastOfBlock;
    private readonly bool _alongNormals;
    private readonly Func<int, int, double>? _steep;
    private readonly LongerIntervals _longer;
    private readonly int[] _peaks;

    private ChordCosts(SpacingNodes nodes, Vec2[] rings, double[] heights, double[] radius, Func<int, int, double>? steep)
    {
        _nodes = nodes;
        _samples = nodes.Samples;
        _rings = rings;
        _radius = radius;
        _alongNormals = steep is not null;
        _steep = steep;
        _leastRadiusFrom = [.. radius];
        for (int i = radius.Length - 2; i >= 0; i--)
            _leastRadiusFrom[i] = Math.Min(radius[i], _leastRadiusFrom[i + 1]);
        _leastOfBlock = [.. radius.Chunk(Block).Select(c => c.Min())];
        _peaks = [.. nodes.SampleOf];
        Ends = [.. heights.Select((h, i) => h - radius[nodes.SampleOf[i]])];
        Least = Math.Max(Ends[0], Ends[^1]);
        _longer = new LongerIntervals(nodes, rings, heights, radius.Max());
    }

    /// <summary>The bow: from the axis's own points at the nodes, across the line.</summary>
    public static ChordCosts ForBow(SpacingNodes nodes) =>
        new(nodes, [.. nodes.SampleOf.Select(i => nodes.Samples[i].Point)], new double[nodes.Stations.Length], new double[nodes.Samples.Length], null);

    /// <summary>The gap: from ring points at the height that the span gives for each station, along the axis's normals to the blank's surface.</summary>
    public static ChordCosts ForGap(SpacingNodes nodes, BlankShape shape, RunningSpan span)
    {
        double[] heights = [.. nodes.Stations.Select(span.DistanceMm)];
        int sign = shape.SignOf(span.Side);
        Vec2[] rings = [.. nodes.SampleOf.Select((at, i) => nodes.Samples[at].Point + (nodes.Samples[at].Tangent.Perpendicular * (sign * heights[i])))];
        return new ChordCosts(nodes, rings, heights, [.. nodes.Samples.Select(s => s.RadiusMm)], BySearch);

        double BySearch(int tipward, int buttward) => IntervalRule.Measure(shape, Ring(buttward), Ring(tipward), span.Side).GapMm;
        RingPoint Ring(int i) => RingPoint.At(shape, nodes.Stations[i], heights[i], span.Side);
    }

    /// <summary>The last held guide's and the tip-top's rings stay, and so does their own distance from the blank.</summary>
    public double Least { get; }

    /// <summary>Each node's own part: its ring's distance from the blank's surface.</summary>
    private double[] Ends { get; }

    public double Cost(int tipward, int buttward) => Largest(tipward, buttward, double.NegativeInfinity);

    public int Test(int tipward, int buttward, double limit)
    {
        if (double.IsPositiveInfinity(limit))
            return buttward;
        int last = _rings.Length - 1;
        if (Ends[tipward] >= limit)
            return Math.Max(last, buttward + 1);
        if (Ends[buttward] >= limit)
            return buttward + 1;

        // The peak of the interval tested before from this node is mostly high enough to settle a long one.
        Vec2 ring = _rings[tipward];
        Vec2 along = (_rings[buttward] - ring).Normalized();
        int a = _nodes.SampleOf[tipward];
        int b = _nodes.SampleOf[buttward];
        if (IsSteep(a, b, along))
            return Largest(tipward, buttward, limit) < limit ? buttward : buttward + 1;
        int at = Math.Clamp(_peaks[tipward], a, b);
        if (Math.Abs(Offset(at, ring, along)) - _radius[at] < limit)
        {
            if (Largest(tipward, buttward, limit) < limit)
                return buttward;
            at = Math.Clamp(_peaks[tipward], a, b);
        }

        return _longer.Next(tipward, buttward, at, _alongNormals, limit + _radius[at], limit);
    }

    /// <summary>The interval's cost where it is at least <paramref name="floor"/>; else some value below that.</summary>
    private double Largest(int tipward, int buttward, double floor)
    {
        Vec2 ring = _rings[tipward];
        Vec2 along = (_rings[buttward] - ring).Normalized();
        int a = _nodes.SampleOf[tipward];
        int b = _nodes.SampleOf[buttward];
        if (IsSteep(a, b, along))
            return _steep is null ? ByScan(a, b, ring, along) : _steep(tipward, buttward);

        // The least radius between both nodes, or less: nothing else in the interval can reach the best so far by its thinness.
        double thin = _leastRadiusFrom[a];
        double best = Math.Max(Ends[tipward], Ends[buttward]);
        for (int from = a; from < b;)
        {
            int to = Math.Min(_nodes.PieceEnd[from], b);
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

            double peak = Peak(lo, hi, ring, along);
            if (_alongNormals && (peak + _radius[lo]) * _nodes.LargestCurvature >= 0.9)
                return ByScan(a, b, ring, along);
            if (peak > best)
            {
                best = peak;
                _peaks[tipward] = lo;
            }

            best = Along(lo, from, -1, best);
            best = Along(hi, to, 1, best);
            best = Along(from, lo, 1, best);
            best = Along(to, hi, -1, best);
            from = to;
        }

        return best;

        // From a place where the distance falls towards the end of the walk, until it cannot reach the best so far whatever the radius.
        double Along(int start, int end, int step, double so)
        {
            int i = start;
            while ((end - i) * step >= 0)
            {
                double d = Math.Abs(Offset(i, ring, along));
                double least = Math.Max(so, floor);
                if (d - thin <= least)
                    break;
                if ((end - i) * step >= Block && (step > 0 ? i % Block == 0 : i % Block == Block - 1) && d - _leastOfBlock[i / Block] <= least)
                {
                    i += Block * step;
                    continue;
                }

                if (d - _radius[i] > so)
                {
                    so = d - _radius[i];
                    _peaks[tipward] = i;
                }

                i += step;
            }

            return so;
        }
    }

    // Some tangent runs so far across the line that the peaks are not where it runs along it; over a piece the tangent lies between those at its ends.
    private bool IsSteep(int a, int b, Vec2 along)
    {
        double least = _alongNormals ? LeastCosine : 0.05;
        if (along.Dot(_samples[a].Tangent) < least)
            return true;
        for (int from = a; from < b; from = _nodes.PieceEnd[from])
        {
            if (along.Dot(_samples[Math.Min(_nodes.PieceEnd[from], b)].Tangent) < least)
                return true;
        }

        return false;
    }

    private double ByScan(int a, int b, Vec2 ring, Vec2 along)
    {
        double best = double.NegativeInfinity;
        for (int i = a; i < b; i++)
            best = Math.Max(best, Peak(i, i + 1, ring, along));
        return best;
    }

    private double Offset(int sample, Vec2 ring, Vec2 along)
    {
        ref readonly ShapeSample q = ref _samples[sample];
        double across = along.Cross(ring - q.Point);
        return _alongNormals ? across / along.Dot(q.Tangent) : across;
    }

    /// <summary>The distance from the blank's surface where the tangent runs along the line between two neighbouring samples; at an end when it does not.</summary>
    private double Peak(int lo, int hi, Vec2 ring, Vec2 along)
    {
        double slope0 = along.Cross(_samples[lo].Tangent);
        double slope1 = along.Cross(_samples[hi].Tangent);
        if (slope0 * slope1 >= 0)
            return Math.Max(Math.Abs(Offset(lo, ring, along)) - _radius[lo], Math.Abs(Offset(hi, ring, along)) - _radius[hi]);

        // The distance's slope is the sine of the tangent's angle to the line, taken as linear over one sample.
        double t = slope0 / (slope0 - slope1);
        double offset = along.Cross(ring - _samples[lo].Point) - (slope0 * t * (_samples[hi].S - _samples[lo].S) / 2);
        return Math.Abs(offset) - _radius[lo] - (t * (_radius[hi] - _radius[lo]));
    }
}

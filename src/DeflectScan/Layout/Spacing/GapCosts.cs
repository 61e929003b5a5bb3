using DeflectScan.Geometry;

namespace DeflectScan.Layout.Spacing;

/// <summary>The gap between any two nodes with rings at the height that the span gives for each station.</summary>
internal sealed class GapCosts : IEdgeCosts
{
    private const double LeastCosine = 0.35;
    private const int Probes = 8;
    private readonly SpacingNodes _nodes;
    private readonly BlankShape _shape;
    private readonly RunningSpan _span;
    private readonly BowCosts _bows;
    private readonly RingPoint[] _rings;
    private readonly double[] _radiusUpTo;
    private readonly bool _ringsAddToBow;

    public GapCosts(SpacingNodes nodes, BlankShape shape, RunningSpan span)
    {
        _nodes = nodes;
        _shape = shape;
        _span = span;
        _bows = new BowCosts(nodes);
        _rings = [.. nodes.Stations.Select(s => RingPoint.At(shape, s, span.DistanceMm(s), span.Side))];
        _radiusUpTo = new double[nodes.Samples.Length];
        for (int i = 0; i < _radiusUpTo.Length; i++)
            _radiusUpTo[i] = Math.Max(i > 0 ? _radiusUpTo[i - 1] : 0, nodes.Samples[i].RadiusMm);
        int sense = Math.Sign(nodes.Samples[0].Tangent.Cross(nodes.Samples[^1].Tangent));
        _ringsAddToBow = span.Side == GuideSide.Inside && shape.InsideSign == sense && nodes.PieceEnd[0] == nodes.Samples.Length - 1;
    }

    /// <summary>The held guide's and the tip-top's rings stay, and so does their own distance from the blank.</summary>
    public double Least => Math.Max(
        _rings[0].DistanceMm - _nodes.Samples[0].RadiusMm,
        _rings[^1].DistanceMm - _nodes.Samples[^1].RadiusMm);

    public (double Cost, double Floor) Edge(int tipward, int buttward, double limit)
    {
        double floor = Floor(tipward, _nodes.SampleOf[tipward], _nodes.SampleOf[buttward]);
        if (floor > limit)
            return (floor, floor);

        RingPoint ringA = _rings[tipward];
        RingPoint ringB = _rings[buttward];
        Vec2 along = (ringB.PointMm - ringA.PointMm).Normalized();
        int a = _nodes.SampleOf[tipward];
        int b = _nodes.SampleOf[buttward];
        int stride = Math.Max(1, (b - a) / Probes);
        for (int i = a; i <= b; i += stride)
        {
            double d = GapAt(i, ringA.PointMm, along, out bool steep);
            if (steep)
                return (IntervalRule.Measure(_shape, ringB, ringA, _span.Side).GapMm, floor);
            if (d > limit)
                return (d, floor);
        }

        double gap = double.NegativeInfinity;
        for (int i = a; i <= b; i++)
            gap = Math.Max(gap, GapAt(i, ringA.PointMm, along, out _));
        return (gap, floor);
    }

    /// <summary>
    /// A floor under the gap of every longer interval. Its line runs through the same ring; moved by that ring's height it runs through the
    /// axis there, and then leaves a point of the axis as far away as the bow's floor says. Inside a convex bend rings only add to the bow.
    /// </summary>
    private double Floor(int ring, int a, int b)
    {
        (double bow, double floor) = _bows.Between(a, b);
        floor -= _rings[ring].DistanceMm + _radiusUpTo[b];
        if (!_ringsAddToBow || _bows.Arc(a) is var (end, beyond) && b > end)
            return floor;
        return Math.Max(floor, Math.Min(bow - _radiusUpTo[b], beyond - _rings[ring].DistanceMm - _radiusUpTo[^1]));
    }

    private double GapAt(int sample, Vec2 start, Vec2 along, out bool steep)
    {
        ShapeSample q = _nodes.Samples[sample];
        double cosine = along.Dot(q.Tangent);
        steep = Math.Abs(cosine) < LeastCosine;
        return Math.Abs(along.Cross(start - q.Point) / cosine) - q.RadiusMm;
    }
}

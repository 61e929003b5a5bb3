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
    private readonly double _allowance;

    public GapCosts(SpacingNodes nodes, BlankShape shape, RunningSpan span)
    {
        _nodes = nodes;
        _shape = shape;
        _span = span;
        _bows = new BowCosts(nodes);
        _rings = [.. nodes.Stations.Select(s => RingPoint.At(shape, s, span.DistanceMm(s), span.Side))];

        // The line leaves the axis's chord by no more than the larger height, and the gap is taken from the surface.
        _allowance = _rings.Max(r => r.DistanceMm) + nodes.Samples.Max(s => s.RadiusMm);
    }

    public (double Cost, double Floor) Edge(int tipward, int buttward, double limit)
    {
        double floor = _bows.Edge(tipward, buttward, limit).Floor - _allowance;
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

    private double GapAt(int sample, Vec2 start, Vec2 along, out bool steep)
    {
        ShapeSample q = _nodes.Samples[sample];
        double cosine = along.Dot(q.Tangent);
        steep = Math.Abs(cosine) < LeastCosine;
        return Math.Abs(along.Cross(start - q.Point) / cosine) - q.RadiusMm;
    }
}

using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line.Outside;

/// <summary>
/// A ring's place along the blank is told twice, by its stroke and by where the line turns. Where the two contradict each other the stroke
/// is another thing beside the ring, or the ring of another stroke nearby.
/// </summary>
internal static class RingPlaces
{
    /// <summary>So many standard deviations of the difference are a contradiction.</summary>
    private const double Most = 3;

    /// <summary>Residual errors of a whole segment, of light and background, make a corner's place so much less certain than its windows say.</summary>
    private const double SegmentFactor = 1.7;
    private const double StrokeSdMm = 1;

    /// <summary>A stroke farther from the ring in use, mm, is another ring.</summary>
    private const double ApartMm = 30;

    /// <summary>Every ring that its line contradicts, exchanged for the likeliest stroke that it does not, if there is one, or put in doubt.</summary>
    /// <param name="axis">The blank.</param>
    /// <param name="candidates">All strokes.</param>
    /// <param name="free">The line with its vertices where it alone has them.</param>
    /// <param name="dampingMm">How far the free fit lets a vertex go that nothing holds, mm.</param>
    /// <param name="vertices">What the vertices are.</param>
    public static (List<OutsideVertex> Vertices, List<double> Doubts) Settled(
        BlankAxis axis, IReadOnlyList<StandingRing> candidates, PolylineSolution free, double dampingMm, IReadOnlyList<OutsideVertex> vertices)
    {
        List<OutsideVertex> settled = [.. vertices];
        List<double> doubts = [];
        for (int i = 1; i < vertices.Count - 1; i++)
        {
            if (vertices[i].Ring is not { } ring || !OutsideTrace.IsPlain(ring))
                continue;
            double s = axis.Curve.Nearest(free.Vertices[i]).S;

            // The damping is a prior; without it the line alone says this.
            double variance = Math.Pow(RingReport.Uncertainty(free, i, axis.Curve.Tangent(s)).Along, 2);
            double prior = dampingMm * dampingMm;
            if (variance > 0.5 * prior)
                continue;
            double own = variance * prior / (prior - variance);
            double sd = Math.Sqrt((SegmentFactor * SegmentFactor * own) + (StrokeSdMm * StrokeSdMm));
            if (Math.Abs(s - ring.Station) < Most * sd)
                continue;
            StandingRing? better = candidates
                .Where(c => Math.Abs(c.Station - ring.Station) < ApartMm && Math.Abs(c.Station - s) < Most * sd)
                .MaxBy(c => c.Score);
            if (better is null)
                doubts.Add(ring.Station);
            else
                settled[i] = new OutsideVertex(better, false);
        }

        return (settled, doubts);
    }
}

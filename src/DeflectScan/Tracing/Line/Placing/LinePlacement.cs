using DeflectScan.Geometry;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// The taut line through given rings: from ring to ring the straight chord, or, where that would cut the blank, the tangents to its surface.
/// Exact dynamic programming over the height at which it runs through each ring.
/// </summary>
internal static class LinePlacement
{
    /// <summary>The evidence's ratios are against nothing, but what stands behind the rod has edges that look like pieces of line: so much of it counts.</summary>
    public const double LineTrust = 0.4;

    /// <summary>Where the line lies on the blank for less than this, mm, one place stands for both.</summary>
    private const double ShortTouchMm = 30;

    /// <summary>The best line.</summary>
    /// <param name="band">The band of the rings' side.</param>
    /// <param name="rings">From the tip-top to the one nearest to the reel; at least two.</param>
    /// <param name="insideSign">+1 where the axis' normal points to the inside of the bend.</param>
    public static LinePath Best(ChordBand band, IReadOnlyList<RingPlace> rings, double insideSign)
    {
        RingNode[] nodes = new RingNode[rings.Count];
        Parallel.For(0, nodes.Length, i => nodes[i] = band.Node(rings[i], insideSign, i == 0));
        double[] score = [.. nodes[0].Heights.Select((_, a) => -nodes[0].Cost(a))];
        double[] seen = new double[score.Length];
        List<int[]> from = [];
        for (int j = 1; j < nodes.Length; j++)
        {
            RingNode before = nodes[j - 1];
            RingNode here = nodes[j];
            double[] next = new double[here.Heights.Count];
            double[] nextSeen = new double[here.Heights.Count];
            int[] best = new int[here.Heights.Count];
            double[][] pieces = here.From(band, before);
            for (int b = 0; b < next.Length; b++)
            {
                next[b] = double.MinValue;
                for (int a = 0; a < score.Length; a++)
                {
                    double sum = score[a] + (LineTrust * pieces[b][a]) - here.Cost(b);
                    if (sum > next[b])
                        (next[b], nextSeen[b], best[b]) = (sum, seen[a] + pieces[b][a], a);
                }
            }

            (score, seen) = (next, nextSeen);
            from.Add(best);
        }

        (double top, double line, int last, Vec2 end) = (double.MinValue, 0, 0, default);
        for (int b = 0; b < score.Length; b++)
        {
            foreach ((double way, Vec2 at) in nodes[^1].WaysOn(band)[b])
            {
                if (score[b] + (LineTrust * way) > top)
                    (top, line, last, end) = (score[b] + (LineTrust * way), seen[b] + way, b, at);
            }
        }

        return Walk(band, nodes, from, last, end, line);
    }

    private static LinePath Walk(ChordBand band, RingNode[] nodes, List<int[]> from, int last, Vec2 end, double score)
    {
        List<(Vec2 Point, LineVertex Vertex)> points = [(end, LineVertex.End)];
        int height = last;
        for (int j = nodes.Length - 1; j >= 0; j--)
        {
            points.Add((nodes[j].Points[height], new LineVertex(nodes[j].Ring, false)));
            if (j == 0)
                break;
            int before = from[j - 1][height];
            points.AddRange(OnBlank(band, nodes[j - 1], before, nodes[j], height).Select(p => (p, LineVertex.OnBlank)));
            height = before;
        }

        points.Reverse();
        return new LinePath([.. points.Select(p => p.Point)], [.. points.Select(p => p.Vertex)], score);
    }

    /// <summary>Where the line comes to lie on the blank between two rings, the farther place first; one place where they are close.</summary>
    private static IEnumerable<Vec2> OnBlank(ChordBand band, RingNode a, int heightA, RingNode b, int heightB)
    {
        if (!RingNode.Touches(a, heightA, b, heightB))
            yield break;
        (int from, int to) = (a.Forward[heightA].Column, b.Backward[heightB].Column);
        if ((to - from) * band.StepMm < ShortTouchMm)
        {
            yield return band.Surface[(from + to) / 2];
            yield break;
        }

        yield return band.Surface[to];
        yield return band.Surface[from];
    }
}

using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line.Outside;

/// <summary>
/// The taut line on the outside of the bend, where it runs close to the blank: from ring to ring it is the straight chord, or, where that
/// would cut the blank, the tangents to its surface, and in every ring it turns towards the blank. Exact dynamic programming over the
/// pieces between standing strokes, for the line's height in each.
/// </summary>
internal sealed class ChordSearch
{
    /// <summary>Closest and farthest that two guides stand, mm (common practice, no source).</summary>
    private const double ClosestMm = 30;
    private const double FarthestMm = 620;

    /// <summary>Strokes nearer to each other than this, mm, are one ring's.</summary>
    private const double NearMm = 5;

    /// <summary>What a further ring must explain.</summary>
    private const double RingCost = 7;

    /// <summary>The least the line turns by in what hardly looks like a guide: in a guide it turns by some degrees.</summary>
    private const double LeastTurnRad = 0.012;

    /// <summary>
    /// How much of the evidence for a line counts against the look of a ring: the ratios are against nothing, but what else stands behind the
    /// rod has edges that look like pieces of line.
    /// </summary>
    private const double LineTrust = 0.4;

    private const int HeightsWithWayOn = 4;

    private readonly ChordBand _band;
    private readonly List<ChordNode> _nodes;
    private readonly Incoming[][] _into;

    private ChordSearch(ChordBand band, IReadOnlyList<StandingRing> rings)
    {
        _band = band;
        _nodes = [ChordNode.Tip(band), .. rings.Where(r => r.Station > ClosestMm).OrderBy(r => r.Station).Select(r => ChordNode.Of(band, r))];
        _into = [.. _nodes.Select(n => n.Heights.Select(_ => new Incoming()).ToArray())];
    }

    public static ChordPath? Best(ChordMap map, IReadOnlyList<StandingRing> rings) => new ChordSearch(new ChordBand(map), rings).Run();

    private ChordPath? Run()
    {
        (double Score, double Line, Way? Last, Vec2 End) top = (double.MinValue, 0, null, default);
        for (int j = 1; j < _nodes.Count; j++)
        {
            Parallel.For(0, _nodes[j].Heights.Length, b =>
            {
                for (int i = 0; i < j; i++)
                {
                    double apart = _nodes[j].Station - _nodes[i].Station;
                    if (apart >= ClosestMm && apart <= FarthestMm)
                        Join(i, j, b);
                }

                _into[j][b].Sort();
            });

            // The way on to the reel is long: only from the heights that are best so far.
            foreach (int b in Enumerable.Range(0, _nodes[j].Heights.Length).OrderByDescending(b => _into[j][b].Best(double.MinValue)?.Score ?? double.MinValue).Take(HeightsWithWayOn))
            {
                foreach ((double score, double angle, Vec2 end) in _nodes[j].WaysOn(_band, b))
                {
                    if (_into[j][b].Best(angle + LeastTurn(j)) is { } way && way.Score + (LineTrust * score) > top.Score)
                        top = (way.Score + (LineTrust * score), way.Line + score, way, end);
                }
            }
        }

        return top.Last is null ? null : Walk(top.Line, top.Last, top.End);
    }

    private double LeastTurn(int node) => OutsideTrace.IsPlain(_nodes[node].Ring!) ? 0 : LeastTurnRad;

    private void Join(int i, int j, int b)
    {
        ChordNode from = _nodes[i];
        ChordNode to = _nodes[j];
        double ring = to.Ring!.Score - RingCost + to.RimScore(b);
        for (int a = 0; a < from.Heights.Length; a++)
        {
            (double leaves, double arrives) = ChordNode.Angles(_band, from, a, to, b);
            Way? before = null;
            double start = 0;
            if (i > 0)
            {
                before = _into[i][a].Best(leaves + LeastTurn(i));
                if (before is null)
                    continue;
                start = before.Score;
            }

            double piece = Piece(from, a, to, b);
            _into[j][b].Add(new Way(j, b, i, a, arrives, start + (LineTrust * piece) + ring, piece + (before?.Line ?? 0), before));
        }
    }

    private double Piece(ChordNode from, int a, ChordNode to, int b) => ChordNode.Touches(from, a, to, b)
        ? from.Forward[a].Score + to.Backward[b].Score
        : _band.Along(from.Points[a], to.Points[b], from.Column, to.Column);

    /// <summary>
    /// Whether another stroke near a ring would do as well were the line's evidence taken at its word: then look and line contradict each other.
    /// </summary>
    private bool IsContested(Way way, Way? next)
    {
        ChordNode used = _nodes[way.Node];
        double Odds(ChordNode node, int height) => node.Ring!.Score + node.RimScore(height)
            + Piece(_nodes[way.From], way.FromHeight, node, height)
            + (next is null ? node.WaysOn(_band, height).Max(w => w.Score) : Piece(node, height, _nodes[next.Node], next.Height));
        ChordNode[] rivals = [.. _nodes.Skip(1).Where(n => n != used && Math.Abs(n.Station - used.Station) is > NearMm and < ClosestMm
            && n.Station > _nodes[way.From].Station + ClosestMm && (next is null || n.Station < _nodes[next.Node].Station - ClosestMm))];
        if (rivals.Length == 0)
            return false;
        double odds = Odds(used, way.Height);
        return rivals.Any(r => Enumerable.Range(0, r.Heights.Length).Any(h => Odds(r, h) > odds));
    }

    private ChordPath Walk(double score, Way last, Vec2 end)
    {
        List<(Vec2 Point, OutsideVertex Vertex)> points = [(end, OutsideVertex.End)];
        List<StandingRing> rings = [];
        List<StandingRing> contested = [];
        Way? next = null;
        for (Way? way = last; way is not null; (next, way) = (way, way.Before))
        {
            rings.Add(_nodes[way.Node].Ring!);
            if (IsContested(way, next))
                contested.Add(_nodes[way.Node].Ring!);
            points.Add((_nodes[way.Node].Points[way.Height], new OutsideVertex(_nodes[way.Node].Ring, false)));
            points.AddRange(OnBlank(_nodes[way.From], way.FromHeight, _nodes[way.Node], way.Height).Select(p => (p, OutsideVertex.OnBlank)));
            if (way.From == 0)
                points.Add((_nodes[0].Points[way.FromHeight], OutsideVertex.End));
        }

        points.Reverse();
        rings.Reverse();
        return new ChordPath(rings, [.. points.Select(p => p.Point)], [.. points.Select(p => p.Vertex)], contested, score);
    }

    /// <summary>Where the line comes to lie on the blank between two rings, the farther place first; one place where they are close.</summary>
    private IEnumerable<Vec2> OnBlank(ChordNode a, int heightA, ChordNode b, int heightB)
    {
        if (!ChordNode.Touches(a, heightA, b, heightB))
            yield break;
        (int from, int to) = (a.Forward[heightA].Column, b.Backward[heightB].Column);
        if ((to - from) * _band.StepMm < ClosestMm)
        {
            yield return _band.Surface[(from + to) / 2];
            yield break;
        }

        yield return _band.Surface[to];
        yield return _band.Surface[from];
    }

    /// <summary>A way into a node: from where, at which angle it arrives (upper end of what its heights leave open), the score up to there, and the line's part of it.</summary>
    private sealed record Way(int Node, int Height, int From, int FromHeight, double Arrives, double Score, double Line, Way? Before);

    /// <summary>The ways into one node at one height, so that the best one that arrives steeply enough is found quickly.</summary>
    private sealed class Incoming
    {
        private readonly List<Way> _ways = [];
        private Way[] _best = [];

        public void Add(Way way) => _ways.Add(way);

        public void Sort()
        {
            _ways.Sort((a, b) => a.Arrives.CompareTo(b.Arrives));
            _best = new Way[_ways.Count];
            for (int i = _ways.Count - 1; i >= 0; i--)
                _best[i] = i + 1 < _ways.Count && _best[i + 1].Score > _ways[i].Score ? _best[i + 1] : _ways[i];
        }

        /// <summary>The best way that arrives at this angle or more.</summary>
        public Way? Best(double angle)
        {
            int low = 0;
            int high = _ways.Count;
            while (low < high)
            {
                int middle = (low + high) / 2;
                if (_ways[middle].Arrives < angle)
                    low = middle + 1;
                else
                    high = middle;
            }

            return low < _best.Length ? _best[low] : null;
        }
    }
}

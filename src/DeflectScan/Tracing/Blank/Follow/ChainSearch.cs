using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// Strokes joined end to end into the longest smooth, tapering, one-way-bending curves from butt to tip: dynamic programming over
/// directed strokes. A cable keeps its width, a cord or an edge does not bend, a crossing thing leaves at an angle.
/// </summary>
internal sealed class ChainSearch
{
    private const int Rounds = 24; // most strokes in a chain
    private const double SmallestRadiusMm = 170; // a blank does not bend more sharply
    private const double GapPrice = 0.7; // mm of stroke that a mm of gap costs
    private const double WrongTurnPrice = 400; // mm of stroke that a radian of turning the other way costs

    private const double SameShare = 0.6; // of a chain's strokes: one that shares as many with a better one is that one
    private const int MostPromising = 2;

    private readonly BarStroke[] _nodes;
    private readonly List<Join>[] _joins;

    private ChainSearch(IReadOnlyList<BarStroke> strokes, double longestGapMm)
    {
        _nodes = [.. strokes.SelectMany(s => new[] { s, s.Reversed() })];
        double[] x = [.. _nodes.Select(s => s.Start.X)];
        double[] y = [.. _nodes.Select(s => s.Start.Y)];
        _joins = new List<Join>[_nodes.Length];
        Parallel.For(0, _nodes.Length, a =>
        {
            _joins[a] = [];
            Vec2 end = _nodes[a].End;
            for (int b = 0; b < x.Length; b++)
            {
                double dx = x[b] - end.X;
                double dy = y[b] - end.Y;
                if ((dx * dx) + (dy * dy) <= longestGapMm * longestGapMm && a >> 1 != b >> 1 && JoinOf(_nodes[a], b) is { } join)
                    _joins[a].Add(join);
            }
        });
    }

    /// <summary>
    /// For each stroke the best chain through it in either direction and either bending sense; best first, doubles left out. After the best by
    /// score come those that would beat the first of them but for their widths.
    /// </summary>
    public static List<StrokeChain> Find(IReadOnlyList<BarStroke> strokes, double longestGapMm, int most, double leastShare, bool mayBeStraight)
    {
        ChainSearch search = new(strokes, longestGapMm);
        List<StrokeChain> chains = [.. new[] { 1, -1 }.SelectMany(bend => search.Chains(bend, mayBeStraight))];
        chains.Sort((a, b) => b.Score.CompareTo(a.Score));
        List<StrokeChain> distinct = [];
        foreach (StrokeChain chain in chains)
        {
            if (chain.Score > 0 && distinct.TrueForAll(d => d.SharedMm(chain) < SameShare * chain.StrokesMm))
                distinct.Add(chain);
            if (distinct.Count == most)
                break;
        }

        List<StrokeChain> promising = [];
        foreach (StrokeChain chain in chains.OrderByDescending(c => c.Promise))
        {
            if (promising.Count == MostPromising || distinct.Count == 0 || chain.Promise <= distinct[0].Promise)
                break;
            if (distinct[0].SharedMm(chain) < SameShare * chain.StrokesMm && promising.TrueForAll(d => d.SharedMm(chain) < SameShare * chain.StrokesMm))
                promising.Add(chain);
        }

        return [.. distinct.Where(d => d.Score > leastShare * distinct[0].Score && !promising.Contains(d)), .. promising];
    }

    private List<StrokeChain> Chains(int bend, bool mayBeStraight)
    {
        int n = _nodes.Length;
        List<(int To, double Price)>[] joins = [.. _joins.Select(js => js.ConvertAll(j => (j.To, j.Price + (WrongTurnPrice * Math.Max(0, (-bend * j.Turn) - 0.05)))))];
        double[] reward = [.. _nodes.Select(s => Reward(s, bend))];
        (double[] ahead, int[] next) = Best(reward, joins);
        List<(int To, double Price)>[] back = [.. Enumerable.Range(0, n).Select(_ => new List<(int, double)>())];
        for (int a = 0; a < n; a++)
        {
            foreach ((int b, double price) in joins[a])
                back[b].Add((a, price));
        }

        (double[] behind, int[] previous) = Best(reward, back);
        List<StrokeChain> chains = [];
        foreach (int node in Enumerable.Range(0, n).OrderByDescending(i => ahead[i] + behind[i] - reward[i]).Take(300))
        {
            List<int> path = Follow(node, previous);
            path.Reverse();
            path.AddRange(Follow(node, next).Skip(1));
            if (path.Distinct().Count() == path.Count)
                chains.Add(new StrokeChain([.. path.Select(i => _nodes[i])], [.. path.Select(i => i >> 1)], bend, mayBeStraight));
        }

        return chains;
    }

    private static List<int> Follow(int node, int[] next)
    {
        List<int> path = [];
        for (int at = node; at >= 0 && path.Count <= Rounds && !path.Contains(at); at = next[at])
            path.Add(at);
        return path;
    }

    private static (double[] Value, int[] Next) Best(double[] reward, List<(int To, double Price)>[] joins)
    {
        double[] value = [.. reward];
        int[] next = new int[reward.Length];
        Array.Fill(next, -1);
        for (int round = 0; round < Rounds; round++)
        {
            double[] better = [.. reward];
            bool changed = false;
            for (int a = 0; a < reward.Length; a++)
            {
                foreach ((int b, double price) in joins[a])
                {
                    double through = reward[a] + value[b] - price;
                    if (through > better[a])
                        (better[a], next[a]) = (through, b);
                }

                changed |= better[a] > value[a] + 1e-9;
            }

            value = better;
            if (!changed)
                break;
        }

        return (value, next);
    }

    private static double Reward(BarStroke s, int bend)
    {
        double wrong = Math.Max(0, (-bend * s.Turn) - 0.05);
        double thicker = Math.Max(0, s.EndWidthMm - (1.25 * s.StartWidthMm) - 0.8);
        double tooWide = Math.Max(0, Math.Max(s.StartWidthMm, s.EndWidthMm) - 20);
        return (s.LengthMm * Math.Min(1, Math.Sqrt(s.Contrast / 30))) - (WrongTurnPrice * wrong) - (60 * thicker) - (60 * tooWide);
    }

    private Join? JoinOf(BarStroke a, int to)
    {
        BarStroke b = _nodes[to];
        Vec2 gap = b.Start - a.End;
        double distance = gap.Length;
        double turn = BarStroke.TurnBetween(a.EndDirection, b.StartDirection);
        double reach = Math.Max(0, gap.Dot(a.EndDirection));
        double looseness = 0.06 + (2.5 / Math.Min(Math.Min(a.LengthMm, b.LengthMm), 50));
        if (Math.Abs(turn) > looseness + ((reach + 30) / SmallestRadiusMm) || Math.Abs(turn) > 1.2)
            return null;
        // A circle leaves its tangent by distance x turn / 2 on the way.
        Vec2 mean = (a.EndDirection + b.StartDirection).Normalized();
        double forward = gap.Dot(mean);
        double sideways = Math.Abs(mean.Cross(gap));
        if (forward < -10 || sideways > 2.5 + (looseness * Math.Max(0, forward)))
            return null;
        double widest = (1.4 * a.EndWidthMm) + 1;
        double narrowest = (0.6 * a.EndWidthMm) - 1 - (0.012 * reach);
        if (b.StartWidthMm > 1.5 * widest || b.StartWidthMm < 0.6 * narrowest)
            return null;
        double misfit = Math.Max(0, b.StartWidthMm - widest) + Math.Max(0, narrowest - b.StartWidthMm);
        double change = Math.Abs(Math.Log(a.Contrast / b.Contrast));
        return new Join(to, (GapPrice * distance) + (6 * sideways) + (30 * misfit) + (10 * change), turn);
    }

    /// <summary>A stroke that may follow, what the join costs in mm of stroke, and the turning across it.</summary>
    private readonly record struct Join(int To, double Price, double Turn);
}

namespace DeflectScan.Layout.Spacing;

/// <summary>
/// The exact smallest largest cost for a number of intervals over a set of nodes. For a limit on the cost, a label goes from the
/// tip to the butt: for each node and number of intervals the smallest last spacing that reaches it (a smaller one leaves every later choice
/// open, so one label is enough also when spacings may not grow toward the tip). The limit itself is one of the costs, found by bisection over them.
/// Exact whatever the costs: no convexity and no monotony is assumed.
/// </summary>
internal sealed class SpacingSearch
{
    private readonly double[] _stations;
    private readonly int[] _nodes;
    private readonly int _intervals;
    private readonly SpacingOptions _options;
    private readonly int[] _low;
    private readonly int[] _high;
    private readonly List<Link>[] _links;

    /// <summary>Prepares every interval that can be part of a layout whose costs all stay within <paramref name="limit"/>.</summary>
    /// <param name="costs">Cost of an interval by node.</param>
    /// <param name="stations">Stations of all nodes, ascending.</param>
    /// <param name="nodes">The nodes in use: ascending indices, the first and the last node among them.</param>
    /// <param name="intervals">Number of intervals: one more than the free guides.</param>
    /// <param name="options">Least spacing and the order of spacings.</param>
    /// <param name="limit">A largest cost known to be reachable, or infinity.</param>
    public SpacingSearch(IEdgeCosts costs, double[] stations, int[] nodes, int intervals, SpacingOptions options, double limit)
    {
        _stations = stations;
        _nodes = nodes;
        _intervals = intervals;
        _options = options;
        int[] farthest = Farthest(costs, limit);
        (_low, _high) = Windows(farthest);
        _links = new List<Link>[intervals + 1];
        Dictionary<long, double> known = [];
        for (int k = 1; k <= intervals; k++)
        {
            _links[k] = [];
            for (int i = _low[k - 1]; i <= _high[k - 1]; i++)
            {
                for (int j = Math.Max(i + 1, _low[k]); j <= Math.Min(_high[k], farthest[i]); j++)
                {
                    double spacing = _stations[_nodes[j]] - _stations[_nodes[i]];
                    if (spacing < options.LeastSpacingMm - 1e-9)
                        continue;
                    long key = ((long)i << 32) | (uint)j;
                    if (!known.TryGetValue(key, out double cost))
                        known[key] = cost = costs.Edge(_nodes[i], _nodes[j], limit).Cost;
                    if (cost <= limit)
                        _links[k].Add(new Link(i, j, spacing, cost));
                }
            }
        }
    }

    /// <summary>The nodes of a best layout from the tip-top to the held guide, or null when no layout fits.</summary>
    public int[]? Best()
    {
        double[] limits = [.. _links.Skip(1).SelectMany(l => l).Select(l => l.Cost).Distinct().Order()];
        if (limits.Length == 0 || Reach(limits[^1]) is not { } best)
            return null;
        int lo = -1, hi = limits.Length - 1;
        while (hi - lo > 1)
        {
            int middle = (lo + hi) / 2;
            if (Reach(limits[middle]) is { } found)
                (best, hi) = (found, middle);
            else
                lo = middle;
        }

        return best;
    }

    private int[]? Reach(double limit)
    {
        double[][] labels = new double[_intervals + 1][];
        int[][] from = new int[_intervals + 1][];
        labels[0] = [0];
        for (int k = 1; k <= _intervals; k++)
        {
            int count = Math.Max(0, _high[k] - _low[k] + 1);
            labels[k] = new double[count];
            from[k] = new int[count];
            Array.Fill(labels[k], double.PositiveInfinity);
            foreach (Link link in _links[k])
            {
                double before = labels[k - 1][link.From - _low[k - 1]];
                if (link.Cost > limit || double.IsPositiveInfinity(before))
                    continue;
                if (_options.NotGrowingTowardTip && link.Spacing < before - 1e-9)
                    continue;
                int at = link.To - _low[k];
                if (link.Spacing < labels[k][at])
                    (labels[k][at], from[k][at]) = (link.Spacing, link.From);
            }
        }

        if (labels[_intervals].Length == 0 || double.IsPositiveInfinity(labels[_intervals][0]))
            return null;
        int[] path = new int[_intervals + 1];
        int node = _nodes.Length - 1;
        for (int k = _intervals; k >= 0; k--)
        {
            path[k] = _nodes[node];
            if (k > 0)
                node = from[k][node - _low[k]];
        }

        return path;
    }

    /// <summary>For each node in use, no layout within the limit goes farther in one interval from it or from any node before it.</summary>
    private int[] Farthest(IEdgeCosts costs, double limit)
    {
        int[] farthest = new int[_nodes.Length];
        int reach = 0;
        for (int i = 0; i < _nodes.Length; i++)
        {
            for (int j = Math.Max(i, reach) + 1; j < _nodes.Length; j++)
            {
                (double cost, double floor) = costs.Edge(_nodes[i], _nodes[j], limit);
                if (cost <= limit)
                    reach = j;
                else if (floor > limit)
                    break;
            }

            farthest[i] = reach = Math.Max(reach, i);
        }

        return farthest;
    }

    private (int[] Low, int[] High) Windows(int[] farthest)
    {
        int last = _nodes.Length - 1;
        int[] low = new int[_intervals + 1];
        int[] high = new int[_intervals + 1];
        for (int k = 1; k <= _intervals; k++)
            high[k] = farthest[high[k - 1]];
        low[_intervals] = last;
        for (int k = _intervals - 1; k >= 0; k--)
        {
            int i = Array.BinarySearch(farthest, low[k + 1]);
            i = i < 0 ? ~i : i;
            while (i > 0 && farthest[i - 1] >= low[k + 1])
                i--;
            low[k] = i;
        }

        high[_intervals] = high[_intervals] >= last ? last : -1;
        low[0] = 0;
        return (low, high);
    }

    private readonly record struct Link(int From, int To, double Spacing, double Cost);
}

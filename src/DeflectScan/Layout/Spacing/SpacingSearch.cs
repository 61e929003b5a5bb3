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
    private readonly int _intervals;
    private readonly bool _ordered;
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
        Nodes = nodes;
        _stations = [.. nodes.Select(n => stations[n])];
        _intervals = intervals;
        _ordered = options.NotGrowingTowardTip;
        ReachTable reach = ReachTable.Of(costs, _stations, nodes, intervals, options, limit);
        _links = new List<Link>[intervals + 1];
        for (int k = 1; k <= intervals; k++)
        {
            _links[k] = [];
            foreach ((int from, int to) in reach.Candidates(k))
            {
                double cost = costs.Edge(nodes[from], nodes[to], limit).Cost;
                if (cost <= limit)
                    _links[k].Add(new Link(from, to, _stations[to] - _stations[from], cost));
            }
        }
    }

    private int[] Nodes { get; }

    /// <summary>The nodes of a best layout from the tip-top to the held guide, or null when no layout fits.</summary>
    public int[]? Best()
    {
        double[] limits = [.. _links.Skip(1).SelectMany(l => l).Select(l => l.Cost).Distinct().Order()];
        if (limits.Length == 0 || Within(limits[^1]) is not { } best)
            return null;
        int lo = -1, hi = limits.Length - 1;
        while (hi - lo > 1)
        {
            int middle = (lo + hi) / 2;
            if (Within(limits[middle]) is { } found)
                (best, hi) = (found, middle);
            else
                lo = middle;
        }

        return best;
    }

    private int[]? Within(double limit)
    {
        double[] before = new double[Nodes.Length];
        Array.Fill(before, double.PositiveInfinity);
        before[0] = 0;
        int[][] from = new int[_intervals + 1][];
        for (int k = 1; k <= _intervals; k++)
        {
            double[] label = new double[Nodes.Length];
            from[k] = new int[Nodes.Length];
            Array.Fill(label, double.PositiveInfinity);
            foreach (Link link in _links[k])
            {
                double last = before[link.From];
                bool reached = _ordered ? link.Spacing >= last - 1e-9 : last < double.PositiveInfinity;
                if (link.Cost <= limit && reached && link.Spacing < label[link.To])
                    (label[link.To], from[k][link.To]) = (link.Spacing, link.From);
            }

            before = label;
        }

        if (double.IsPositiveInfinity(before[^1]))
            return null;
        int[] path = new int[_intervals + 1];
        int node = Nodes.Length - 1;
        for (int k = _intervals; k >= 0; k--)
        {
            path[k] = Nodes[node];
            if (k > 0)
                node = from[k][node];
        }

        return path;
    }

    private readonly record struct Link(int From, int To, double Spacing, double Cost);
}

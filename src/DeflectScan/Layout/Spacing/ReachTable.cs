namespace DeflectScan.Layout.Spacing;

/// <summary>
/// Which intervals can be part of a layout within a limit, seen from how far one interval can go from each node: a superset of the right ones,
/// found without measuring them. From the tip each node keeps the smallest last spacing that can reach it, from the butt the largest next
/// spacing that can be completed; an interval between both bounds stays.
/// </summary>
internal sealed class ReachTable
{
    private readonly double[] _stations;
    private readonly int[] _first;
    private readonly int[] _farthest;
    private readonly bool _ordered;
    private readonly double[][] _smallest;
    private readonly double[][] _largest;

    private ReachTable(double[] stations, int[] first, int[] farthest, int intervals, bool ordered)
    {
        _stations = stations;
        _first = first;
        _farthest = farthest;
        _ordered = ordered;
        _smallest = new double[intervals + 1][];
        _largest = new double[intervals + 1][];
        FromTip(intervals);
        FromButt(intervals);
    }

    public static ReachTable Of(
        IEdgeCosts costs, double[] stations, int[] nodes, int intervals, SpacingOptions options, double limit)
    {
        int count = nodes.Length;
        int[] first = new int[count];
        int[] farthest = new int[count];
        for (int i = 0; i < count; i++)
        {
            first[i] = i == 0 ? 1 : Math.Max(i + 1, first[i - 1]);
            while (first[i] < count && stations[first[i]] - stations[i] < options.LeastSpacingMm - 1e-9)
                first[i]++;
            farthest[i] = Farthest(costs, nodes, i, i == 0 ? 0 : farthest[i - 1], limit);
        }

        return new ReachTable(stations, first, farthest, intervals, options.NotGrowingTowardTip);
    }

    /// <summary>The intervals that can be the k-th from the tip.</summary>
    public IEnumerable<(int From, int To)> Candidates(int k)
    {
        for (int i = 0; i < _stations.Length; i++)
        {
            if (double.IsPositiveInfinity(_smallest[k - 1][i]))
                continue;
            for (int j = Start(k - 1, i); j <= _farthest[i]; j++)
            {
                if (Completes(k, i, j))
                    yield return (i, j);
            }
        }
    }

    /// <summary>The last node that one interval from a node reaches within the limit, looked for around where the node before it reached.</summary>
    private static int Farthest(IEdgeCosts costs, int[] nodes, int i, int guess, double limit)
    {
        if (double.IsPositiveInfinity(limit))
            return nodes.Length - 1;
        int found = -1;
        for (int j = Math.Max(i + 1, guess); j < nodes.Length; j++)
        {
            (double cost, double floor) = costs.Edge(nodes[i], nodes[j], limit);
            if (cost <= limit)
                found = j;
            else if (floor > limit)
                break;
        }

        for (int j = Math.Max(i + 1, guess) - 1; found < 0 && j > i; j--)
        {
            if (costs.Edge(nodes[i], nodes[j], limit).Cost <= limit)
                found = j;
        }

        return Math.Max(found, i);
    }

    private void FromTip(int intervals)
    {
        _smallest[0] = New(double.PositiveInfinity);
        _smallest[0][0] = 0;
        for (int k = 1; k <= intervals; k++)
        {
            _smallest[k] = New(double.PositiveInfinity);
            for (int i = 0; i < _stations.Length; i++)
            {
                if (double.IsPositiveInfinity(_smallest[k - 1][i]))
                    continue;
                for (int j = Start(k - 1, i); j <= _farthest[i]; j++)
                    _smallest[k][j] = Math.Min(_smallest[k][j], _stations[j] - _stations[i]);
            }
        }
    }

    private void FromButt(int intervals)
    {
        _largest[intervals] = New(double.NegativeInfinity);
        _largest[intervals][^1] = double.PositiveInfinity;
        for (int k = intervals; k > 0; k--)
        {
            _largest[k - 1] = New(double.NegativeInfinity);
            for (int i = 0; i < _stations.Length; i++)
            {
                if (double.IsPositiveInfinity(_smallest[k - 1][i]))
                    continue;
                int start = Start(k - 1, i);
                for (int j = _farthest[i]; j >= start; j--)
                {
                    if (!Completes(k, i, j))
                        continue;
                    _largest[k - 1][i] = _stations[j] - _stations[i];
                    break;
                }
            }
        }
    }

    /// <summary>The first node that an interval from i may end at, as the (k + 1)-th from the tip.</summary>
    private int Start(int k, int i)
    {
        if (!_ordered)
            return _first[i];
        int j = _first[i];
        if (j < _stations.Length && _stations[j] - _stations[i] >= _smallest[k][i] - 1e-9)
            return j;
        int at = Array.BinarySearch(_stations, _stations[i] + _smallest[k][i] - 1e-9);
        return Math.Max(j, at < 0 ? ~at : at);
    }

    private bool Completes(int k, int i, int j) =>
        _ordered ? _stations[j] - _stations[i] <= _largest[k][j] + 1e-9 : !double.IsNegativeInfinity(_largest[k][j]);

    private double[] New(double value)
    {
        double[] values = new double[_stations.Length];
        Array.Fill(values, value);
        return values;
    }
}

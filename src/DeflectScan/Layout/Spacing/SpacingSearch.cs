namespace DeflectScan.Layout.Spacing;

/// <summary>
/// Whether a number of intervals can all stay below a limit, over a set of nodes. A label goes from the tip to the butt: for each node and
/// number of intervals the smallest last spacing that reaches it (a smaller one leaves every later choice open, so one label is enough also when spacings
/// may not grow toward the tip). How far one interval can go from each node, both ways, narrows where labels are needed. Exact whatever the costs.
/// </summary>
internal sealed class SpacingSearch
{
    private readonly IEdgeCosts _costs;
    private readonly int[] _nodes;
    private readonly double[] _stations;
    private readonly int _intervals;
    private readonly SpacingOptions _options;
    private readonly int[] _first;
    private readonly int[] _farthest;
    private readonly double[] _label;
    private readonly int[][] _from;
    private readonly (int Low, int High)[] _window;

    /// <param name="costs">Cost of an interval by node.</param>
    /// <param name="stations">Stations of all nodes, ascending.</param>
    /// <param name="nodes">The nodes in use: ascending indices, the first and the last node among them.</param>
    /// <param name="intervals">Number of intervals: one more than the free guides.</param>
    /// <param name="options">Least spacing and the order of spacings.</param>
    public SpacingSearch(IEdgeCosts costs, double[] stations, int[] nodes, int intervals, SpacingOptions options)
    {
        _costs = costs;
        _nodes = nodes;
        _stations = [.. nodes.Select(n => stations[n])];
        _intervals = intervals;
        _options = options;
        _first = new int[nodes.Length];
        for (int i = 0; i < nodes.Length; i++)
        {
            _first[i] = i == 0 ? 1 : Math.Max(i + 1, _first[i - 1]);
            while (_first[i] < nodes.Length && _stations[_first[i]] - _stations[i] < options.LeastSpacingMm - 1e-9)
                _first[i]++;
        }

        _farthest = new int[nodes.Length];
        _label = new double[2 * nodes.Length];
        _from = [.. Enumerable.Range(0, intervals + 1).Select(_ => new int[nodes.Length])];
        _window = new (int, int)[intervals + 1];
    }

    private int Last => _nodes.Length - 1;

    /// <summary>The nodes, from the tip-top to the held guide, of a layout whose every cost is below a limit; null when there is none.</summary>
    public int[]? Below(double limit)
    {
        if (_intervals == 1)
            return _first[0] <= Last && IsBelow(0, Last, limit) ? [_nodes[0], _nodes[Last]] : null;
        Reach(limit);
        return Windows(limit) && Labels(limit) ? Path() : null;
    }

    // For each node the last one but the last of all that an interval may reach: none beyond it stays below the limit.
    private void Reach(double limit)
    {
        int guess = 0;
        for (int i = 0; i < Last; i++)
        {
            if (_first[i] >= Last)
            {
                _farthest[i] = i;
                continue;
            }

            guess = Math.Clamp(guess, _first[i], Last - 1);
            guess = _farthest[i] = double.IsPositiveInfinity(limit) ? Last - 1 : Farthest(i, guess, limit);
            if (guess < _first[i])
                guess = _first[i];
        }
    }

    private int Farthest(int i, int guess, double limit)
    {
        int found = -1;
        for (int j = guess; j < Last;)
        {
            int next = _costs.Test(_nodes[i], _nodes[j], limit);
            if (next == _nodes[j])
                found = j;
            if (next >= _nodes[Last])
                break;
            for (j++; _nodes[j] < next;)
                j++;
        }

        for (int j = guess - 1; found < 0 && j >= _first[i]; j--)
        {
            if (IsBelow(i, j, limit))
                found = j;
        }

        return found < 0 ? i : found;
    }

    private bool IsBelow(int i, int j, double limit) => _costs.Test(_nodes[i], _nodes[j], limit) == _nodes[j];

    // Between which nodes the k-th guide from the tip can stand.
    private bool Windows(double limit)
    {
        double span = _stations[Last] - _stations[0];
        _window[0] = (0, 0);
        int reach = 0;
        int seen = -1;
        for (int k = 1; k < _intervals; k++)
        {
            for (int high = _window[k - 1].High; seen < high;)
                reach = Math.Max(reach, _farthest[++seen]);
            int most = Math.Min(reach, Last - 1);
            while (_options.NotGrowingTowardTip && most > 0 && _stations[most] - _stations[0] > (span * k / _intervals) + 1e-6)
                most--;
            _window[k] = (_first[_window[k - 1].Low], most);
            if (_window[k].Low > most)
                return false;
        }

        int low = _window[_intervals - 1].Low;
        while (low <= _window[_intervals - 1].High && (_first[low] > Last || !IsBelow(low, Last, limit)))
            low++;
        _window[_intervals - 1].Low = low;
        for (int k = _intervals - 2; k > 0; k--)
        {
            low = _window[k].Low;
            while (low <= _window[k].High && _farthest[low] < _window[k + 1].Low)
                low++;
            _window[k].Low = low;
        }

        return _window.All(w => w.Low <= w.High);
    }

    private bool Labels(double limit)
    {
        Span<double> before = _label.AsSpan(0, _nodes.Length);
        Span<double> now = _label.AsSpan(_nodes.Length);
        before[0] = 0;
        for (int k = 1; k <= _intervals; k++)
        {
            (int low, int high) = k == _intervals ? (Last, Last) : _window[k];
            bool any = false;
            int start = _window[k - 1].Low;
            for (int j = low; j <= high; j++)
            {
                now[j] = double.PositiveInfinity;
                while (start < _window[k - 1].High && _first[start + 1] <= j)
                    start++;
                for (int i = start; i >= _window[k - 1].Low; i--)
                {
                    double spacing = _stations[j] - _stations[i];
                    bool open = _options.NotGrowingTowardTip ? spacing >= before[i] - 1e-9 : before[i] < double.PositiveInfinity;
                    if (!open || _first[i] > j || (j < Last && _farthest[i] < j) || !IsBelow(i, j, limit))
                        continue;
                    now[j] = spacing;
                    _from[k][j] = i;
                    any = true;
                    break;
                }
            }

            if (!any)
                return false;
            Span<double> old = before;
            before = now;
            now = old;
        }

        return true;
    }

    private int[] Path()
    {
        int[] path = new int[_intervals + 1];
        int node = Last;
        for (int k = _intervals; k >= 0; k--)
        {
            path[k] = _nodes[node];
            if (k > 0)
                node = _from[k][node];
        }

        return path;
    }
}

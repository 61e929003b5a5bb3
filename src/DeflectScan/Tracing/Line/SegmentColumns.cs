namespace DeflectScan.Tracing.Line;

/// <summary>What the filters read at every column (px) along a segment, and its summary by windows.</summary>
internal sealed class SegmentColumns(int columns, int channels)
{
    /// <summary>Error in common of a window's columns where something was taken off, px.</summary>
    private const double DoubtSdPx = 0.3;

    private readonly double[] _shift = new double[channels * columns];
    private readonly double[] _contrast = new double[channels * columns];
    private readonly double[] _expected = new double[channels * columns];
    private readonly double[] _gain = new double[channels * columns];
    private readonly bool[] _seen = new bool[columns];
    private readonly bool[] _doubtful = new bool[columns];

    /// <summary>Says whether something beside the line was taken off a column's profile, which is never quite right.</summary>
    public void Doubt(int column, bool doubtful) => _doubtful[column] = doubtful;

    public void Set(int channel, int column, double shift, double contrast, double expected, double gain)
    {
        int i = (channel * columns) + column;
        _shift[i] = shift;
        _contrast[i] = contrast;
        _expected[i] = expected;
        _gain[i] = gain;
        _seen[column] = true;
    }

    public List<LineWindow> Windows(double windowPx, double length, double skipStartMm, double pxMm)
    {
        double[] shiftSd = [.. Enumerable.Range(0, channels).Select(c => Spread(_shift.AsSpan(c * columns, columns)))];
        double[] contrastSd = [.. Enumerable.Range(0, channels).Select(c => Spread(_contrast.AsSpan(c * columns, columns)))];
        int windows = Math.Max(1, (int)Math.Round(columns / windowPx));
        List<LineWindow> found = [];
        for (int w = 0; w < windows; w++)
        {
            int from = w * columns / windows;
            int to = (w + 1) * columns / windows;
            if (Window(from, to, shiftSd, contrastSd) is not { } sums)
                continue;
            double fraction = (skipStartMm + (sums.Place * pxMm)) / length;
            found.Add(new LineWindow(fraction, sums.Shift * pxMm, sums.Sd * pxMm, sums.Evidence));
        }

        return found;
    }

    private (double Place, double Shift, double Sd, double Evidence)? Window(int from, int to, double[] shiftSd, double[] contrastSd)
    {
        double pull = 0;
        double information = 0;
        double place = 0;
        double seen = 0;
        double could = 0;
        int used = 0;
        int doubtful = 0;
        for (int k = from; k < to; k++)
        {
            if (!_seen[k])
                continue;
            used++;
            if (_doubtful[k])
                doubtful++;
            for (int c = 0; c < channels; c++)
            {
                int i = (c * columns) + k;
                double expected = _expected[i];
                double slope = expected * _gain[i];
                if (Math.Abs(_shift[i]) > (4 * shiftSd[c]) + Math.Abs(slope))
                    continue;
                double weight = 1 / ((shiftSd[c] * shiftSd[c]) + (0.02 * expected * expected));
                pull += weight * slope * _shift[i];
                information += weight * slope * slope;
                place += weight * slope * slope * (k + 0.5);
                double contrastWeight = 1 / ((contrastSd[c] * contrastSd[c]) + (0.05 * expected * expected));
                seen += contrastWeight * expected * Math.Clamp(_contrast[i], -2 * Math.Abs(expected), 2 * Math.Abs(expected));
                could += contrastWeight * expected * expected;
            }
        }

        if (information <= 0)
            return null;
        double doubt = DoubtSdPx * doubtful / Math.Max(1, used);
        return (place / information, pull / information, Math.Sqrt((1 / information) + (doubt * doubt)), seen / Math.Sqrt(could));
    }

    private double Spread(ReadOnlySpan<double> values)
    {
        List<double> kept = [];
        for (int i = 0; i < values.Length; i++)
        {
            if (_seen[i])
                kept.Add(values[i]);
        }

        if (kept.Count == 0)
            return 1;
        kept.Sort();
        double median = kept[kept.Count / 2];
        for (int i = 0; i < kept.Count; i++)
            kept[i] = Math.Abs(kept[i] - median);
        kept.Sort();
        return Math.Max(0.5, kept[kept.Count / 2] / 0.6745);
    }
}

using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>What a filter reads of one channel at one column.</summary>
/// <param name="Shift">Contrast times shift in px.</param>
/// <param name="Contrast">Contrast of a line at the middle.</param>
/// <param name="Expected">Contrast that the line's colour and the background tell.</param>
/// <param name="Gain">Response of Shift to contrast times shift.</param>
/// <param name="Residual">What else than a line lies there, as what it can do to Shift.</param>
internal readonly record struct ColumnReading(double Shift, double Contrast, double Expected, double Gain, double Residual);

/// <summary>What the filters read at every column (px) along a segment, and its summary by windows.</summary>
internal sealed class SegmentColumns(int columns, int channels)
{
    /// <summary>Error in common of a window's columns where something was taken off, px.</summary>
    private const double DoubtSdPx = 0.3;

    /// <summary>
    /// Error in common of a window's columns in a colour difference, px: JPEG stores these at half resolution in blocks of 16 px, so
    /// coarsely that a line along a block's rows is smeared over them and its place lost, the same all along the block.
    /// </summary>
    private const double ColourSdPx = 0.8;

    /// <summary>
    /// A thin cylinder lit from one side has its own light's centre this far off its middle, px (standard deviation over lamps). It moves
    /// the place by this times the line's own light over its contrast: much where a bright line lies on a background as bright.
    /// </summary>
    private const double LitPx = 0.015;

    /// <summary>At least this share of a window's variance is its own.</summary>
    private const double LeastOwnShare = 0.02;

    /// <summary>
    /// A column whose profile leaves more than this times the usual mean square shows something else beside the line; the excess counts
    /// as noise, several times, for it is alike in neighbouring columns.
    /// </summary>
    private const double StrangeFrom = 4;
    private const double Strange = 6;

    private readonly double[] _shift = new double[channels * columns];
    private readonly double[] _contrast = new double[channels * columns];
    private readonly double[] _expected = new double[channels * columns];
    private readonly double[] _gain = new double[channels * columns];
    private readonly double[] _residual = new double[channels * columns];
    private readonly bool[] _seen = new bool[columns];
    private readonly bool[] _doubtful = new bool[columns];

    /// <summary>Says whether something beside the line was taken off a column's profile, which is never quite right.</summary>
    public void Doubt(int column, bool doubtful) => _doubtful[column] = doubtful;

    public void Set(int channel, int column, in ColumnReading reading)
    {
        int i = (channel * columns) + column;
        _shift[i] = reading.Shift;
        _contrast[i] = reading.Contrast;
        _expected[i] = reading.Expected;
        _gain[i] = reading.Gain;
        _residual[i] = reading.Residual;
        _seen[column] = true;
    }

    public List<LineWindow> Windows(double windowPx, double length, double skipStartMm, double pxMm, double ownLuma)
    {
        double[] shiftSd = [.. Enumerable.Range(0, channels).Select(c => Spread(_shift.AsSpan(c * columns, columns)))];
        double[] usual = [.. Enumerable.Range(0, channels).Select(c => Median(_residual.AsSpan(c * columns, columns)))];
        double[] contrastSd = [.. Enumerable.Range(0, channels).Select(c => Spread(_contrast.AsSpan(c * columns, columns)))];
        int windows = Math.Max(1, (int)Math.Round(columns / windowPx));
        double lit = LitPx * Math.Abs(ownLuma) * Math.Sqrt(windows);
        List<LineWindow> found = [];
        for (int w = 0; w < windows; w++)
        {
            int from = w * columns / windows;
            int to = (w + 1) * columns / windows;
            if (Window(from, to, shiftSd, contrastSd, usual, lit) is not { } sums)
                continue;
            double fraction = (skipStartMm + (sums.Place * pxMm)) / length;
            found.Add(new LineWindow(fraction, sums.Shift * pxMm, sums.Sd * pxMm, sums.Evidence, sums.Colour, Doubtful(from, to))
            {
                NoiseSdMm = sums.NoiseSd * pxMm,
                LitSdPx = sums.Lit / Math.Sqrt(windows),
            });
        }

        return found;
    }

    private (double Place, double Shift, double Sd, double NoiseSd, double Lit, double Evidence, double Colour)? Window(int from, int to, double[] shiftSd, double[] contrastSd, double[] usual, double lit)
    {
        double pull = 0;
        double information = 0;
        double ofColour = 0;
        double place = 0;
        double seen = 0;
        double could = 0;
        double litPull = 0;
        for (int c = 0; c < channels; c++)
        {
            double channelPull = 0;
            double channelInformation = 0;
            double channelPlace = 0;
            double contrast = 0;
            int used = 0;
            for (int k = from; k < to; k++)
            {
                if (!_seen[k])
                    continue;
                int i = (c * columns) + k;
                double expected = _expected[i];
                double slope = expected * _gain[i];
                if (Math.Abs(_shift[i]) > (4 * shiftSd[c]) + Math.Abs(slope))
                    continue;
                double strange = Strange * Math.Max(0, (_residual[i] * _residual[i]) - (StrangeFrom * usual[c] * usual[c]));
                double weight = 1 / ((shiftSd[c] * shiftSd[c]) + (0.02 * expected * expected) + strange);
                used++;
                contrast += expected * expected;
                channelPull += weight * slope * _shift[i];
                channelInformation += weight * slope * slope;
                channelPlace += weight * slope * slope * (k + 0.5);
                double contrastWeight = 1 / ((contrastSd[c] * contrastSd[c]) + (0.05 * expected * expected));
                seen += contrastWeight * expected * Math.Clamp(_contrast[i], -2 * Math.Abs(expected), 2 * Math.Abs(expected));
                could += contrastWeight * expected * expected;
            }

            double common = c > 0 ? ColourSdPx : lit / Math.Max(0.1, Math.Sqrt(contrast / Math.Max(1, used)));
            double share = 1 / (1 + (common * common * channelInformation));
            pull += share * channelPull;
            information += share * channelInformation;
            place += share * channelPlace;
            ofColour += c == 0 ? 0 : share * channelInformation;
            litPull += c == 0 ? share * channelInformation * common : 0;
        }

        if (information <= 0)
            return null;
        double doubt = DoubtSdPx * Doubtful(from, to);
        double litShift = litPull / information;
        double variance = 1 / information;
        return (
            place / information,
            pull / information,
            Math.Sqrt(variance + (doubt * doubt)),
            Math.Sqrt(Math.Max(LeastOwnShare * variance, variance - (litShift * litShift)) + (doubt * doubt)),
            litShift,
            seen / Math.Sqrt(could),
            ofColour / information);
    }

    /// <summary>Share of the columns where something was taken off.</summary>
    private double Doubtful(int from, int to)
    {
        int used = 0;
        int doubtful = 0;
        for (int k = from; k < to; k++)
        {
            if (!_seen[k])
                continue;
            used++;
            if (_doubtful[k])
                doubtful++;
        }

        return (double)doubtful / Math.Max(1, used);
    }

    private double Median(ReadOnlySpan<double> values)
    {
        List<double> kept = [];
        for (int i = 0; i < values.Length; i++)
        {
            if (_seen[i])
                kept.Add(values[i]);
        }

        return OrderStatistics.Middle(kept, none: 0);
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
        double median = OrderStatistics.Middle(kept);
        return Math.Max(0.5, OrderStatistics.Middle(kept.Select(v => Math.Abs(v - median))) / NormalLaw.MedianSize);
    }
}

namespace DeflectScan.Tracing.Line;

/// <summary>
/// What the guides of this rod look like, learnt from those that the line's corners have shown, and how like that every other station is:
/// normalised correlation of the foreground around it. Guides of one rod are alike, so one that the line runs through without touching,
/// or hardly turns at, is found too.
/// </summary>
internal sealed class GuideLook
{
    private const double HalfLengthMm = 20;
    private const double BelowMm = 5;
    private const double AboveMm = 16;

    private readonly ForegroundMap _map;
    private readonly int _half;
    private readonly int _firstRow;
    private readonly int _rows;

    public GuideLook(ForegroundMap map)
    {
        _map = map;
        _half = (int)(HalfLengthMm / map.Strip.StepMm);
        _firstRow = Math.Max(0, (int)map.RowOf(-BelowMm));
        _rows = Math.Min(map.Rows, (int)map.RowOf(AboveMm)) - _firstRow;
    }

    /// <summary>The mean look of the guides at these columns; null where none fits into the band.</summary>
    public float[]? Learn(IReadOnlyList<double> columns)
    {
        float[] mean = new float[((2 * _half) + 1) * _rows];
        int n = 0;
        foreach (double column in columns)
        {
            if (Patch((int)Math.Round(column)) is not { } patch)
                continue;
            n++;
            for (int i = 0; i < mean.Length; i++)
                mean[i] += patch[i];
        }

        if (n == 0)
            return null;
        for (int i = 0; i < mean.Length; i++)
            mean[i] /= n;
        return mean;
    }

    /// <summary>Normalised correlation of the look with the foreground around a column, -1 to 1; 0 outside the band.</summary>
    /// <param name="look">From <see cref="Learn"/>.</param>
    /// <param name="column">The column asked about.</param>
    /// <param name="aboveMm">Only what lies higher than this; without it the blank and its wraps count too.</param>
    public double Likeness(float[] look, int column, double aboveMm = double.MinValue)
    {
        int skip = Math.Clamp((int)Math.Ceiling(_map.RowOf(Math.Max(aboveMm, -BelowMm))) - _firstRow, 0, _rows - 1);
        if (column - _half < 0 || column + _half >= _map.Strip.Columns)
            return 0;
        double sumA = 0;
        double sumB = 0;
        double ab = 0;
        double aa = 0;
        double bb = 0;
        int i = 0;
        for (int c = column - _half; c <= column + _half; c++)
        {
            ReadOnlySpan<float> values = _map.Column(c).Slice(_firstRow, _rows);
            for (int r = skip; r < _rows; r++)
            {
                double a = look[i + r];
                double b = values[r];
                sumA += a;
                sumB += b;
                ab += a * b;
                aa += a * a;
                bb += b * b;
            }

            i += _rows;
        }

        double n = ((2 * _half) + 1) * (_rows - skip);
        double covariance = ab - (sumA * sumB / n);
        double variances = (aa - (sumA * sumA / n)) * (bb - (sumB * sumB / n));
        return variances <= 1e-9 ? 0 : covariance / Math.Sqrt(variances);
    }

    private float[]? Patch(int column)
    {
        if (column - _half < 0 || column + _half >= _map.Strip.Columns)
            return null;
        float[] patch = new float[((2 * _half) + 1) * _rows];
        for (int c = -_half; c <= _half; c++)
            _map.Column(column + c).Slice(_firstRow, _rows).CopyTo(patch.AsSpan((c + _half) * _rows, _rows));
        return patch;
    }
}

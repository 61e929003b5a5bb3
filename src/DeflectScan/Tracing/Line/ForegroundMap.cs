namespace DeflectScan.Tracing.Line;

/// <summary>
/// How much each place of the band differs, 0 to 1, from what lies at the same height a little before and after it along the blank:
/// wraps on the blank, frames, feet and rings stand out; the wall, a card and the bare blank do not. Two levels to a row, so that rows
/// and columns are equally far apart.
/// </summary>
internal sealed class ForegroundMap
{
    private const double BlockMm = 13;
    private const int BlocksToEachSide = 3;

    private readonly float[] _values;

    private ForegroundMap(BandStrip strip, int rows, float[] values)
    {
        Strip = strip;
        Rows = rows;
        _values = values;
    }

    public BandStrip Strip { get; }

    public int Rows { get; }

    /// <summary>Row of a height.</summary>
    public double RowOf(double heightMm) => Strip.LevelOf(heightMm) / 2;

    public ReadOnlySpan<float> Column(int column) => _values.AsSpan(column * Rows, Rows);

    /// <summary>All values, column after column.</summary>
    public float[] Copy() => (float[])_values.Clone();

    /// <summary>A map of the same band with other values.</summary>
    public ForegroundMap With(float[] values) => new(Strip, Rows, values);

    public static ForegroundMap Compute(BandStrip strip, double upToMm)
    {
        int rows = Math.Min(strip.Levels, (int)strip.LevelOf(upToMm)) / 2;
        float[] values = new float[strip.Columns * rows];
        int block = Math.Max(4, (int)(BlockMm / strip.StepMm));
        int blocks = Math.Max(1, strip.Columns / block);
        for (int channel = 0; channel < BandStrip.Channels; channel++)
        {
            float[] usual = new float[blocks * rows];
            float[] spread = new float[blocks * rows];
            Background(strip, channel, (block, blocks, rows), usual, spread);
            int at = channel;
            Parallel.For(0, strip.Columns, c =>
            {
                int b = Math.Min(c / block, blocks - 1) * rows;
                ReadOnlySpan<float> column = strip.Column(at, c);
                Span<float> into = values.AsSpan(c * rows, rows);
                for (int row = 0; row < rows; row++)
                    into[row] = MathF.Max(into[row], MathF.Abs(column[2 * row] - usual[b + row]) / spread[b + row]);
            });
        }

        for (int i = 0; i < values.Length; i++)
            values[i] = Math.Clamp((values[i] - 2.5f) / 5, 0, 1);
        return new ForegroundMap(strip, rows, values);
    }

    /// <summary>What each row is like in the blocks around each block, and how much it varies there.</summary>
    private static void Background(BandStrip strip, int channel, (int Columns, int Count, int Rows) blocks, float[] usual, float[] spread)
    {
        int rows = blocks.Rows;
        float[] median = new float[usual.Length];
        float[] deviation = new float[usual.Length];
        Parallel.For(0, blocks.Count, b =>
        {
            float[] turned = new float[rows * blocks.Columns];
            for (int c = 0; c < blocks.Columns; c++)
            {
                ReadOnlySpan<float> column = strip.Column(channel, (b * blocks.Columns) + c);
                for (int row = 0; row < rows; row++)
                    turned[(row * blocks.Columns) + c] = column[2 * row];
            }

            for (int row = 0; row < rows; row++)
            {
                Span<float> sample = turned.AsSpan(row * blocks.Columns, blocks.Columns);
                float middle = Middle.Of(sample);
                for (int c = 0; c < sample.Length; c++)
                    sample[c] = MathF.Abs(sample[c] - middle);
                median[(b * rows) + row] = middle;
                deviation[(b * rows) + row] = Middle.Of(sample);
            }
        });
        Parallel.For(0, blocks.Count, b =>
        {
            Span<float> near = stackalloc float[(2 * BlocksToEachSide) + 1];
            for (int row = 0; row < rows; row++)
            {
                usual[(b * rows) + row] = Around(median, b, row, rows, near);
                spread[(b * rows) + row] = Math.Max(2.5f, 1.6f * Around(deviation, b, row, rows, near));
            }
        });
    }

    private static float Around(float[] values, int block, int row, int rows, Span<float> near)
    {
        int n = 0;
        for (int b = block - BlocksToEachSide; b <= block + BlocksToEachSide; b++)
        {
            if (b >= 0 && b * rows < values.Length)
                near[n++] = values[(b * rows) + row];
        }

        return Middle.Of(near[..n]);
    }
}

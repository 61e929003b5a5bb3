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

    public static ForegroundMap Compute(BandStrip strip, double upToMm)
    {
        int rows = Math.Min(strip.Levels, (int)strip.LevelOf(upToMm)) / 2;
        float[] values = new float[strip.Columns * rows];
        int block = Math.Max(4, (int)(BlockMm / strip.StepMm));
        int blocks = Math.Max(1, strip.Columns / block);
        Parallel.For(0, rows, row =>
        {
            float[][] usual = new float[BandStrip.Channels][];
            float[][] spread = new float[BandStrip.Channels][];
            for (int channel = 0; channel < BandStrip.Channels; channel++)
                (usual[channel], spread[channel]) = Background(strip, channel, 2 * row, block, blocks);
            for (int c = 0; c < strip.Columns; c++)
            {
                int b = Math.Min(c / block, blocks - 1);
                float most = 0;
                for (int channel = 0; channel < BandStrip.Channels; channel++)
                    most = Math.Max(most, Math.Abs(strip.Column(channel, c)[2 * row] - usual[channel][b]) / spread[channel][b]);
                values[(c * rows) + row] = Math.Clamp((most - 2.5f) / 5, 0, 1);
            }
        });
        return new ForegroundMap(strip, rows, values);
    }

    private static (float[] Usual, float[] Spread) Background(BandStrip strip, int channel, int level, int block, int blocks)
    {
        float[] median = new float[blocks];
        float[] deviation = new float[blocks];
        float[] sample = new float[block];
        for (int b = 0; b < blocks; b++)
        {
            for (int c = 0; c < block; c++)
                sample[c] = strip.Column(channel, (b * block) + c)[level];
            Array.Sort(sample);
            median[b] = sample[block / 2];
            for (int c = 0; c < block; c++)
                sample[c] = Math.Abs(sample[c] - median[b]);
            Array.Sort(sample);
            deviation[b] = sample[block / 2];
        }

        float[] usual = new float[blocks];
        float[] spread = new float[blocks];
        List<float> near = [];
        for (int b = 0; b < blocks; b++)
        {
            usual[b] = Middle(median, b, near);
            spread[b] = Math.Max(2.5f, 1.6f * Middle(deviation, b, near));
        }

        return (usual, spread);
    }

    private static float Middle(float[] values, int at, List<float> near)
    {
        near.Clear();
        for (int i = Math.Max(0, at - BlocksToEachSide); i <= Math.Min(values.Length - 1, at + BlocksToEachSide); i++)
            near.Add(values[i]);
        near.Sort();
        return near[near.Count / 2];
    }
}

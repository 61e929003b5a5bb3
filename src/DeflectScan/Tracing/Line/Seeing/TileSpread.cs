using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>Standard deviation of a single sample of the response by tiles of the band: from the median absolute value, so that lines and specks do not count.</summary>
internal sealed class TileSpread
{
    private const int TileColumns = 24;
    public const int TileLevels = 40;

    /// <summary>What rounding to 8 bits and JPEG leave at least.</summary>
    private const float Least = 0.7f;

    private readonly float[,,] _sd;

    private TileSpread(float[,,] sd) => _sd = sd;

    public float Sd(int channel, int column, int level) => _sd[channel, column / TileColumns, level / TileLevels];

    /// <summary>The deviations of a column between two levels.</summary>
    public void Read(int channel, int column, (int From, int To) levels, float[] sd)
    {
        for (int from = levels.From; from < levels.To;)
        {
            int to = Math.Min(levels.To, ((from / TileLevels) + 1) * TileLevels);
            sd.AsSpan(from..to).Fill(Sd(channel, column, from));
            from = to;
        }
    }

    public static TileSpread Measure(ThinResponse response)
    {
        BandStrip strip = response.Strip;
        int across = (strip.Levels + TileLevels - 1) / TileLevels;
        int along = (strip.Columns + TileColumns - 1) / TileColumns;
        float[,,] sd = new float[BandStrip.Channels, along, across];
        Parallel.For(0, along, i =>
        {
            float[] sample = new float[TileColumns * TileLevels];
            for (int channel = 0; channel < BandStrip.Channels; channel++)
            {
                for (int j = 0; j < across; j++)
                    sd[channel, i, j] = Spread(response, channel, i, j, sample);
            }
        });
        return new TileSpread(sd);
    }

    private static float Spread(ThinResponse response, int channel, int i, int j, float[] sample)
    {
        int n = 0;
        int level = j * TileLevels;
        int count = Math.Min(TileLevels, response.Strip.Levels - level);
        int last = Math.Min(response.Strip.Columns, (i + 1) * TileColumns);
        for (int c = i * TileColumns; c < last; c++)
        {
            ReadOnlySpan<float> thin = response.Thin(channel, c).Slice(level, count);
            for (int l = 0; l < count; l += 2)
                sample[n++] = Math.Abs(thin[l]);
        }

        return Math.Max(Least / MathF.Sqrt(response.Strip.Pooled), Quickselect.Of(sample.AsSpan(0, n)) / (float)NormalLaw.MedianSize);
    }
}

namespace DeflectScan.Tracing.Line;

/// <summary>
/// What the photo shows beside the blank's edge where nothing else is: its blur and the halo of sharpening, as the difference from the open
/// background some px away, by distance from the edge. The median over a good part of the blank, so that the line, which comes near the
/// edge for a shorter way, does not count.
/// </summary>
internal sealed class EdgeProfile
{
    public const int LevelsBefore = 2;
    private const int Levels = 20;
    private const int OpenFrom = 16;
    private const double BlockMm = 13;
    private const double WindowMm = 70;

    private readonly BandStrip _strip;
    private readonly int _block;
    private readonly float[][][] _values; // channel, block, level

    private EdgeProfile(BandStrip strip, int block, float[][][] values)
    {
        _strip = strip;
        _block = block;
        _values = values;
    }

    public static EdgeProfile Measure(BandStrip strip)
    {
        int block = Math.Max(4, (int)(BlockMm / strip.StepMm));
        int blocks = Math.Max(1, strip.Columns / block);
        int window = (int)Math.Ceiling(WindowMm / (block * strip.StepMm));
        float[][][] values = new float[BandStrip.Channels][][];
        Parallel.For(0, BandStrip.Channels, channel =>
        {
            float[][] means = [.. Enumerable.Range(0, blocks).Select(b => BlockMean(strip, channel, b * block, block))];
            values[channel] = new float[blocks][];
            float[] near = new float[(2 * window) + 1];
            for (int b = 0; b < blocks; b++)
            {
                values[channel][b] = new float[Levels];
                for (int l = 0; l < Levels; l++)
                {
                    int n = 0;
                    for (int i = Math.Max(0, b - window); i <= Math.Min(blocks - 1, b + window); i++)
                        near[n++] = means[i][l];
                    values[channel][b][l] = Middle.Of(near.AsSpan(0, n));
                }
            }
        });
        return new EdgeProfile(strip, block, values);
    }

    /// <summary>Difference from the open background at a station and a distance above the blank's edge; 0 farther out.</summary>
    public double At(int channel, double station, double aboveMm)
    {
        double level = (aboveMm / _strip.LevelMm) + LevelsBefore;
        if (level >= Levels - 1)
            return 0;
        int b = Math.Clamp((int)(_strip.ColumnOf(station) / _block), 0, _values[channel].Length - 1);
        int l = Math.Max(0, (int)level);
        double t = Math.Max(0, level - l);
        float[] v = _values[channel][b];
        return ((1 - t) * v[l]) + (t * v[l + 1]);
    }

    private static float[] BlockMean(BandStrip strip, int channel, int column, int count)
    {
        float[] mean = new float[Levels];
        for (int c = column; c < column + count; c++)
        {
            ReadOnlySpan<float> values = strip.Column(channel, c);
            double edge = strip.LevelOf(strip.Axis.RadiusMm(strip.Station(c))) - LevelsBefore;
            int first = (int)Math.Floor(edge);
            float t = (float)(edge - first);
            float open = 0;
            for (int l = OpenFrom; l < Levels; l++)
                open += Value(values, first + l, t) / (Levels - OpenFrom);
            for (int l = 0; l < Levels; l++)
                mean[l] += (Value(values, first + l, t) - open) / count;
        }

        return mean;
    }

    private static float Value(ReadOnlySpan<float> values, int level, float t)
    {
        int l = Math.Clamp(level, 0, values.Length - 2);
        return ((1 - t) * values[l]) + (t * values[l + 1]);
    }
}

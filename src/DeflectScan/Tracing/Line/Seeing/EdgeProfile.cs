using DeflectScan.Numerics;

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
    private const int OpenLevels = Levels - OpenFrom;

    /// <summary>A known line reaches so many levels to each side; where it lies in the open, the background is taken so much farther out.</summary>
    private const int LineLevels = 4;
    private const int FartherLevels = 10;

    /// <summary>Fewer blocks of the window do not tell the profile.</summary>
    private const int LeastBlocks = 4;
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

    /// <param name="strip">The band.</param>
    /// <param name="line">The line's level at every column where it is known (NaN: it is not there): what lies beside it alone counts.</param>
    /// <param name="windowMm">To each side along the blank, what counts towards the profile at a place.</param>
    public static EdgeProfile Measure(BandStrip strip, double[]? line = null, double windowMm = WindowMm)
    {
        int block = Math.Max(4, (int)(BlockMm / strip.StepMm));
        int blocks = Math.Max(1, strip.Columns / block);
        int window = (int)Math.Ceiling(windowMm / (block * strip.StepMm));
        float[][][] values = new float[BandStrip.Channels][][];
        Parallel.For(0, BandStrip.Channels, channel =>
        {
            float[][] means = [.. Enumerable.Range(0, blocks).Select(b => BlockMean(strip, channel, (b * block, block), line))];
            values[channel] = new float[blocks][];
            float[] near = new float[(2 * window) + 1];
            for (int b = 0; b < blocks; b++)
            {
                values[channel][b] = new float[Levels];
                for (int l = 0; l < Levels; l++)
                {
                    int n = 0;
                    for (int i = Math.Max(0, b - window); i <= Math.Min(blocks - 1, b + window); i++)
                    {
                        if (!float.IsNaN(means[i][l]))
                            near[n++] = means[i][l];
                    }

                    values[channel][b][l] = n < LeastBlocks ? float.NaN : Quickselect.Of(near.AsSpan(0, n));
                }
            }

            FillGaps(values[channel]);
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

    /// <summary>Where the line hides the edge all the way, what the nearest blocks along the blank show; nothing where none does.</summary>
    private static void FillGaps(float[][] blocks)
    {
        for (int l = 0; l < Levels; l++)
        {
            int[] known = [.. Enumerable.Range(0, blocks.Length).Where(b => !float.IsNaN(blocks[b][l]))];
            for (int b = 0; b < blocks.Length; b++)
            {
                if (float.IsNaN(blocks[b][l]))
                    blocks[b][l] = known.Length == 0 ? 0 : blocks[known.MinBy(k => Math.Abs(k - b))][l];
            }
        }
    }

    /// <summary>Means by level of a block's columns, less the open background; NaN where the line lies in most of them.</summary>
    private static float[] BlockMean(BandStrip strip, int channel, (int First, int Count) columns, double[]? line)
    {
        float[] sum = new float[Levels];
        int[] seen = new int[Levels];
        for (int c = columns.First; c < columns.First + columns.Count; c++)
        {
            ReadOnlySpan<float> values = strip.Column(channel, c);
            double edge = strip.SurfaceLevels[c] - LevelsBefore;
            int first = (int)Math.Floor(edge);
            float t = (float)(edge - first);
            double at = line is null ? double.NaN : line[c] - edge;
            int openFrom = at > OpenFrom - LineLevels && at < Levels + LineLevels ? OpenFrom + FartherLevels : OpenFrom;
            float open = 0;
            for (int l = openFrom; l < openFrom + OpenLevels; l++)
                open += Value(values, first + l, t) / OpenLevels;
            for (int l = 0; l < Levels; l++)
            {
                if (Math.Abs(at - l) < LineLevels)
                    continue;
                sum[l] += Value(values, first + l, t) - open;
                seen[l]++;
            }
        }

        return [.. sum.Select((v, l) => 2 * seen[l] < columns.Count ? float.NaN : v / seen[l])];
    }

    private static float Value(ReadOnlySpan<float> values, int level, float t)
    {
        int l = Math.Clamp(level, 0, values.Length - 2);
        return ((1 - t) * values[l]) + (t * values[l + 1]);
    }
}

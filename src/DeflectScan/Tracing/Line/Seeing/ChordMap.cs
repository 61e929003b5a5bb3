using System.Numerics;
using System.Runtime.CompilerServices;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// What the band says about a straight piece of line. Before the line's colour is known: how much the samples along it deviate together, in
/// every channel by itself. Once it is known: the sum of the samples' log-likelihood ratios.
/// </summary>
internal sealed class ChordMap
{
    /// <summary>No sample counts more than this many standard deviations: specks and strokes that cross the line.</summary>
    private const float MostDeviation = 4;

    /// <summary>No sample's log-likelihood ratio is larger.</summary>
    private const float Most = 2.5f;

    /// <summary>How well the colour tells the contrast: squared share.</summary>
    private const float ContrastShare = 0.06f;

    /// <summary>Neighbouring samples repeat each other (blur, texture): variance of a sum over that of independent samples.</summary>
    private const double Likeness = 2;

    private readonly float[][] _maps;
    private readonly int _levels;
    private readonly bool _colourKnown;

    private ChordMap(BandStrip strip, float[][] maps, bool colourKnown)
    {
        Strip = strip;
        _maps = maps;
        _levels = strip.Levels;
        _colourKnown = colourKnown;
    }

    public BandStrip Strip { get; }

    public int Maps => _maps.Length;

    public static ChordMap Blind(EdgeFree band)
    {
        float[][] maps = [.. Enumerable.Range(0, BandStrip.Channels).Select(_ => new float[band.Strip.Columns * band.Strip.Levels])];
        Each(band, (channel, at, levels, seen) =>
        {
            Vector<float> most = new(MostDeviation);
            ref float into = ref maps[channel][at];
            int l = levels.From;
            for (; l + Vector<float>.Count <= levels.To; l += Vector<float>.Count)
                Vector.Min(Vector.Max(Vector.LoadUnsafe(ref seen.Contrast[l]) / Vector.LoadUnsafe(ref seen.Sd[l]), -most), most).StoreUnsafe(ref into, (nuint)l);
            for (; l < levels.To; l++)
                maps[channel][at + l] = Math.Clamp(seen.Contrast[l] / seen.Sd[l], -MostDeviation, MostDeviation);
        });
        return new ChordMap(band.Strip, maps, colourKnown: false);
    }

    public static ChordMap InColour(EdgeFree band, LineColour colour)
    {
        float[] map = new float[band.Strip.Columns * band.Strip.Levels];
        Each(band, (channel, at, levels, seen) =>
        {
            ref float into = ref map[at];
            int l = levels.From;
            for (; l + Vector<float>.Count <= levels.To; l += Vector<float>.Count)
            {
                Vector<float> expected = colour.Contrast(channel, Vector.LoadUnsafe(ref seen.Background[l]));
                Vector<float> sd = Vector.LoadUnsafe(ref seen.Sd[l]);
                (Vector.LoadUnsafe(ref into, (nuint)l)
                    + (((Vector.LoadUnsafe(ref seen.Contrast[l]) * expected) - (0.5f * expected * expected)) / ((sd * sd) + (ContrastShare * expected * expected))))
                    .StoreUnsafe(ref into, (nuint)l);
            }

            for (; l < levels.To; l++)
            {
                float expected = (float)colour.Contrast(channel, seen.Background[l]);
                map[at + l] += ((seen.Contrast[l] * expected) - (0.5f * expected * expected)) / ((seen.Sd[l] * seen.Sd[l]) + (ContrastShare * expected * expected));
            }

            if (channel == BandStrip.Channels - 1)
            {
                foreach (ref float value in map.AsSpan(at + levels.From, levels.To - levels.From))
                    value = Math.Clamp(value, -Most, Most);
            }
        });
        return new ChordMap(band.Strip, [map], colourKnown: true);
    }

    private delegate void OfColumn(int channel, int at, (int From, int To) levels, (float[] Contrast, float[] Background, float[] Sd) seen);

    // Every column's channels in order: where the column begins in a map, and what is seen between its first and last level.
    private static void Each(EdgeFree band, OfColumn of)
    {
        int levels = band.Strip.Levels;
        Parallel.For(
            0, band.Strip.Columns, () => (new float[levels], new float[levels], new float[levels]), (column, _, seen) =>
            {
                int first = band.First(column);
                for (int channel = 0; channel < BandStrip.Channels && first < band.Strip.Last[column]; channel++)
                {
                    band.Read(channel, column, seen);
                    of(channel, column * levels, (first, band.Strip.Last[column]), seen);
                }

                return seen;
            },
            _ => { });
    }

    /// <summary>Adds the samples at a (fractional) level of a column to the sums; says whether the line would be seen there.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public bool Add(int column, double level, Span<double> sums)
    {
        int l = (int)(level + 0.5);
        if (l < 0 || l >= _levels)
            return false;
        int at = (column * _levels) + l;
        for (int m = 0; m < _maps.Length; m++)
            sums[m] += _maps[m][at];
        return true;
    }

    /// <summary>Log-likelihood ratio of a piece of line in the known colour, at a level a column, against none.</summary>
    public double Score(int fromColumn, ReadOnlySpan<double> levels)
    {
        Span<double> sums = stackalloc double[BandStrip.Channels];
        sums.Clear();
        int samples = 0;
        for (int i = 0; i < levels.Length; i++)
            samples += !double.IsNaN(levels[i]) && Add(fromColumn + i, levels[i], sums) ? 1 : 0;
        return Score(sums[.._maps.Length], samples);
    }

    /// <summary>Log-likelihood ratio of a line against none, from the sums over some samples.</summary>
    public double Score(ReadOnlySpan<double> sums, int samples)
    {
        if (samples == 0)
            return 0;
        if (_colourKnown)
            return sums[0] / Likeness;
        double score = 0;
        foreach (double sum in sums)
            score += (0.4545 * sum * sum / (samples * Likeness)) - 1.2;
        return score;
    }
}

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
        BandStrip strip = band.Strip;
        float[][] maps = [.. Enumerable.Range(0, BandStrip.Channels).Select(_ => new float[strip.Columns * strip.Levels])];
        Parallel.For(0, strip.Columns, c =>
        {
            for (int channel = 0; channel < maps.Length; channel++)
            {
                ReadOnlySpan<float> contrast = band.Contrast(channel, c);
                ReadOnlySpan<float> sd = band.Sd(channel, c);
                Span<float> into = maps[channel].AsSpan(c * strip.Levels, strip.Levels);
                for (int l = band.First(c); l < strip.Last[c]; l++)
                    into[l] = Math.Clamp(contrast[l] / sd[l], -MostDeviation, MostDeviation);
            }
        });
        return new ChordMap(strip, maps, colourKnown: false);
    }

    public static ChordMap InColour(EdgeFree band, LineColour colour)
    {
        BandStrip strip = band.Strip;
        float[] map = new float[strip.Columns * strip.Levels];
        Parallel.For(0, strip.Columns, c =>
        {
            Span<float> into = map.AsSpan(c * strip.Levels, strip.Levels);
            for (int channel = 0; channel < BandStrip.Channels; channel++)
            {
                ReadOnlySpan<float> contrast = band.Contrast(channel, c);
                ReadOnlySpan<float> background = band.Background(channel, c);
                ReadOnlySpan<float> sd = band.Sd(channel, c);
                for (int l = band.First(c); l < strip.Last[c]; l++)
                {
                    float expected = (float)colour.Contrast(channel, background[l]);
                    into[l] += ((contrast[l] * expected) - (0.5f * expected * expected)) / ((sd[l] * sd[l]) + (ContrastShare * expected * expected));
                }
            }

            for (int l = 0; l < into.Length; l++)
                into[l] = Math.Clamp(into[l], -Most, Most);
        });
        return new ChordMap(strip, [map], colourKnown: true);
    }

    /// <summary>Adds the samples at a (fractional) level of a column to the sums; says whether the line would be seen there.</summary>
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

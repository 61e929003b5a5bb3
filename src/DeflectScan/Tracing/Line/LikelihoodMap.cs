namespace DeflectScan.Tracing.Line;

/// <summary>
/// For every sample of the band the log-likelihood ratio of "the line, with its known colour, runs here along the band" against "it does
/// not": all channels joined, each weighed by its local noise, held within bounds so that no sample decides alone.
/// </summary>
internal sealed class LikelihoodMap
{
    private const float Most = 2.5f;
    private const float Unlikely = -0.5f;
    private readonly float[] _values;

    private LikelihoodMap(BandStrip strip, float[] values)
    {
        Strip = strip;
        _values = values;
    }

    public BandStrip Strip { get; }

    public ReadOnlySpan<float> Column(int column) => _values.AsSpan(column * Strip.Levels, Strip.Levels);

    public Span<float> Writable(int column) => _values.AsSpan(column * Strip.Levels, Strip.Levels);

    public static LikelihoodMap Compute(ThinResponse response, LineColour colour, bool besideBlank = true, bool plainFlanks = false)
    {
        BandStrip strip = response.Strip;
        float[] values = new float[strip.Columns * strip.Levels];
        TileSpread spread = TileSpread.Measure(response);
        Parallel.For(0, strip.Columns, column =>
        {
            Span<float> into = values.AsSpan(column * strip.Levels, strip.Levels);
            double bare = strip.Axis.RadiusMm(strip.Station(column)) + (2.2 * strip.StepMm);
            int from = Math.Max(strip.First[column], besideBlank ? (int)Math.Ceiling(strip.LevelOf(bare)) : 0);
            bool[] unlike = plainFlanks ? new bool[strip.Levels] : [];
            for (int channel = 0; channel < BandStrip.Channels; channel++)
            {
                ReadOnlySpan<float> thin = response.Thin(channel, column);
                ReadOnlySpan<float> slant = response.Slant(channel, column);
                for (int l = from; l < strip.Last[column]; l++)
                {
                    // The flanks' own difference is doubt about the background.
                    float sd = spread.Sd(channel, column, l);
                    float variance = (sd * sd) + (0.1f * slant[l] * slant[l]);
                    if (plainFlanks)
                        variance += Shoulder(strip.Column(channel, column), l, channel > 0 ? 8 : 6);
                    float expected = (float)colour.Contrast(channel, response.Background(channel, column, l));
                    if (plainFlanks && Unlike(thin[l], slant[l], expected, sd))
                        unlike[l] = true;
                    float tolerance = variance + (0.06f * expected * expected);
                    float seen = plainFlanks && channel == 0 ? Narrow(strip.Column(0, column), l, thin[l]) : thin[l];
                    into[l] += ((seen * expected) - (0.5f * expected * expected)) / tolerance;
                }
            }

            for (int l = from; l < strip.Last[column]; l++)
                into[l] = plainFlanks && unlike[l] ? Unlikely : Math.Clamp(into[l], -Most, Most);
        });
        return new LikelihoodMap(strip, values);
    }

    /// <summary>The lesser of the response with its usual flanks and with nearer ones, 2 px away: the middle of a cord has only the first.</summary>
    private static float Narrow(ReadOnlySpan<float> column, int level, float thin)
    {
        int last = column.Length - 1;
        float middle = (0.5f * column[level]) + (0.25f * (column[Math.Max(0, level - 1)] + column[Math.Min(last, level + 1)]));
        float flanks = 0.5f * (column[Math.Max(0, level - 4)] + column[Math.Min(last, level + 4)]);
        float narrow = 1.3f * (middle - flanks);
        return narrow * thin <= 0 ? 0 : MathF.CopySign(MathF.Min(MathF.Abs(narrow), MathF.Abs(thin)), thin);
    }

    /// <summary>Far too much contrast, or flanks that differ by more than the line itself: something wider.</summary>
    private static bool Unlike(float thin, float slant, float expected, float sd) =>
        MathF.Abs(thin) > (2 * MathF.Abs(expected)) + (4 * sd) || MathF.Abs(slant) > MathF.Abs(expected) + (3 * sd);

    /// <summary>What stands beside a thin line is plain for some way; beside the edge or the middle of a cord it is not.</summary>
    private static float Shoulder(ReadOnlySpan<float> column, int level, int flank)
    {
        int last = column.Length - 1;
        float below = column[Math.Max(0, level - flank)] - column[Math.Max(0, level - (2 * flank))];
        float above = column[Math.Min(last, level + flank)] - column[Math.Min(last, level + (2 * flank))];
        return 0.5f * Math.Max(below * below, above * above);
    }
}

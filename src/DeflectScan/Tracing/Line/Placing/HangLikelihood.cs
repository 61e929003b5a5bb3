namespace DeflectScan.Tracing.Line;

/// <summary>
/// The likelihood of the line where it hangs below the tip-top: nothing but air should stand beside it, so what has wider or unequal
/// flanks, as the cord and its edges have, is unlikely.
/// </summary>
internal static class HangLikelihood
{
    private const float Most = 2.5f;
    private const float Unlikely = -0.5f;

    public static LikelihoodMap Compute(ThinResponse response, LineColour colour)
    {
        BandStrip strip = response.Strip;
        LikelihoodMap map = new(strip);
        TileSpread spread = TileSpread.Measure(response);
        Parallel.For(0, strip.Columns, column =>
        {
            Span<float> into = map.Writable(column);
            Span<bool> unlike = stackalloc bool[strip.Levels];
            for (int channel = 0; channel < BandStrip.Channels; channel++)
            {
                ReadOnlySpan<float> values = strip.Column(channel, column);
                ReadOnlySpan<float> thin = response.Thin(channel, column);
                ReadOnlySpan<float> slant = response.Slant(channel, column);
                int flank = channel > 0 ? ThinResponse.ColourFlank : ThinResponse.LumaFlank;
                for (int l = strip.First[column]; l < strip.Last[column]; l++)
                {
                    float sd = spread.Sd(channel, column, l);
                    float variance = (sd * sd) + (0.1f * slant[l] * slant[l]) + Shoulder(values, l, flank);
                    float expected = (float)colour.Contrast(channel, response.Background(channel, column, l));
                    unlike[l] |= Unlike(thin[l], slant[l], expected, sd);
                    float tolerance = variance + (0.06f * expected * expected);
                    float seen = channel == 0 ? Narrow(values, l, thin[l]) : thin[l];
                    into[l] += ((seen * expected) - (0.5f * expected * expected)) / tolerance;
                }
            }

            for (int l = strip.First[column]; l < strip.Last[column]; l++)
                into[l] = unlike[l] ? Unlikely : Math.Clamp(into[l], -Most, Most);
        });
        return map;
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

namespace DeflectScan.Tracing.Line;

/// <summary>
/// The tie-off cord below the tip, where it is much plainer and wider than the line: its edges can pass for the line and are left out.
/// </summary>
internal static class CordMask
{
    private const double MaxSlope = 0.75;
    private const double FromMm = 18;
    private const double ToMm = 130;
    private const double StartReachMm = 14;

    /// <summary>Half the width left out, in levels (half px): half a cord of 3 mm and the blur and halo beside it.</summary>
    private static int HalfLevels(BandStrip strip) => (int)Math.Ceiling((1.8 / strip.LevelMm) + 6);

    /// <summary>Zeroes the likelihood along the plainest wide stripe that starts near the tip.</summary>
    /// <param name="map">Band below the tip; changed.</param>
    /// <param name="colour">The line's colour.</param>
    /// <param name="tipColumn">Column of the tip's height.</param>
    /// <param name="tipLevel">Level of the tip.</param>
    public static void Apply(LikelihoodMap map, LineColour colour, double tipColumn, double tipLevel)
    {
        BandStrip strip = map.Strip;
        int from = (int)(tipColumn + (FromMm / strip.StepMm));
        int to = Math.Min(strip.Columns - 1, (int)(tipColumn + (ToMm / strip.StepMm)));
        if (to - from < 10)
            return;
        float[][] wide = [.. Enumerable.Range(from, to - from + 1).Select(c => Wide(strip, colour, c))];
        (double Score, double Start, double Slope) best = (0, 0, 0);
        for (double start = -StartReachMm; start <= StartReachMm; start += strip.PxMm)
        {
            for (double slope = -MaxSlope; slope <= MaxSlope; slope += 0.008)
            {
                double sum = 0;
                (double first, double climb) = Way(start, slope);
                for (int k = 0; k < wide.Length; k++)
                {
                    int l = (int)Math.Round(first + (climb * (from + k - tipColumn)));
                    if (l >= 0 && l < strip.Levels)
                        sum += wide[k][l];
                }

                if (sum > best.Score)
                    best = (sum, start, slope);
            }
        }

        // On the mean more than one and a half times the line's own contrast over a width that the line does not have.
        if (best.Score < 1.5 * wide.Length)
            return;
        int half = HalfLevels(strip);
        (double middleFirst, double middleClimb) = Way(best.Start, best.Slope);
        for (int c = (int)tipColumn; c < strip.Columns; c++)
        {
            int middle = (int)Math.Round(middleFirst + (middleClimb * (c - tipColumn)));
            int low = Math.Clamp(middle - half, 0, strip.Levels);
            int high = Math.Clamp(middle + half + 1, low, strip.Levels);
            map.Writable(c)[low..high].Clear();
        }

        (double Level, double Climb) Way(double start, double slope) => (tipLevel + (start / strip.LevelMm), strip.StepMm / strip.LevelMm * slope);
    }

    /// <summary>Least contrast over 1.4 mm against both sides 3.2 mm away, the lesser side, over the line's own contrast; at most 4.</summary>
    private static float[] Wide(BandStrip strip, LineColour colour, int column)
    {
        float[] wide = new float[strip.Levels];
        int half = Math.Max(1, (int)Math.Round(0.7 / strip.LevelMm));
        int side = Math.Max(6, (int)Math.Round(3.2 / strip.LevelMm));
        for (int channel = 0; channel < BandStrip.Channels; channel++)
        {
            ReadOnlySpan<float> values = strip.Column(channel, column);
            for (int l = side; l < strip.Levels - side; l++)
            {
                float low = Least(values[l - half] - values[l - side], values[l] - values[l - side], values[l + half] - values[l - side]);
                float high = Least(values[l - half] - values[l + side], values[l] - values[l + side], values[l + half] - values[l + side]);
                if (low * high <= 0)
                    continue;
                float expected = MathF.Max(4, MathF.Abs((float)colour.Contrast(channel, values[l - side])));
                wide[l] = MathF.Max(wide[l], MathF.Min(4, MathF.Min(MathF.Abs(low), MathF.Abs(high)) / expected));
            }
        }

        return wide;
    }

    /// <summary>The smallest of three where all have one sign, else 0.</summary>
    private static float Least(float a, float b, float c)
    {
        if (a > 0 && b > 0 && c > 0)
            return MathF.Min(a, MathF.Min(b, c));
        return a < 0 && b < 0 && c < 0 ? MathF.Max(a, MathF.Max(b, c)) : 0;
    }
}

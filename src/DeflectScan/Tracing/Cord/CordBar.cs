namespace DeflectScan.Tracing.Cord;

/// <summary>A straight bar of one width across a strip's blocks: its centre is <see cref="NearMm"/> plus <see cref="Slope"/> times the distance.</summary>
internal readonly record struct CordBar(double NearMm, double Slope, double WidthMm, double Score)
{
    public double At(double distanceMm) => NearMm + (Slope * distanceMm);
}

/// <summary>Finds the bar of most contrast in a strip, all blocks at once.</summary>
internal static class CordBarSearch
{
    private const double ReachMm = 3.5; // how far the way from the fan may be off at the near end
    private const double TiltRad = 0.011; // and in its direction
    private const float Most = 60;
    private const int SideLevels = 3;

    public static CordBar Find(CordStrip strip, CordOptions options)
    {
        CordBar best = default;
        foreach (double width in options.WidthsMm)
        {
            CordBar bar = Find(strip, width);
            if (bar.Score > best.Score)
                best = bar;
        }

        return best;
    }

    /// <summary>Differences of the bar to its left and to its right, three channels each, at a place of a block.</summary>
    public static (float Left, float Right) Contrast(CordStrip strip, int block, int centre, int half, Span<float> differences)
    {
        int gap = 1 + SideLevels;
        float left = 0;
        float right = 0;
        for (int c = 0; c < 3; c++)
        {
            float bar = strip.Mean(block, c, centre - half, centre + half);
            differences[c] = bar - strip.Mean(block, c, centre - half - gap - 1, centre - half - gap + 1);
            differences[3 + c] = bar - strip.Mean(block, c, centre + half + gap - 1, centre + half + gap + 1);
            left += Math.Abs(differences[c]);
            right += Math.Abs(differences[3 + c]);
        }

        return (left, right);
    }

    /// <summary>Half a bar's width in whole levels, blurred rims left out.</summary>
    public static int Half(CordStrip strip, double widthMm) => Math.Max(0, (int)Math.Round((0.5 * widthMm / strip.StepMm) - 1));

    private static CordBar Find(CordStrip strip, double width)
    {
        int half = Half(strip, width);
        int margin = half + SideLevels + 3;
        if (strip.Levels <= 2 * margin || strip.Blocks < 3)
            return default;
        float[][] score = new float[strip.Blocks][];
        Span<float> differences = stackalloc float[6];
        for (int b = 0; b < strip.Blocks; b++)
        {
            score[b] = new float[strip.Levels];
            for (int l = margin; l < strip.Levels - margin; l++)
            {
                (float left, float right) = Contrast(strip, b, l, half, differences);
                float same = 0;
                for (int c = 0; c < 3; c++)
                    same += differences[c] * differences[3 + c] > 0 ? Math.Min(Math.Abs(differences[c]), Math.Abs(differences[3 + c])) : 0;
                score[b][l] = Math.Min(Math.Min(same, Math.Min(left, right)), Most);
            }
        }

        CordBar best = default;
        double span = strip.DistanceMm(strip.Blocks - 1);
        int tilts = Math.Max(1, (int)Math.Ceiling(TiltRad * span / strip.StepMm));
        for (double near = -ReachMm; near <= ReachMm; near += strip.StepMm)
        {
            for (int t = -tilts; t <= tilts; t++)
            {
                double slope = t * strip.StepMm / span;
                double sum = 0;
                for (int b = 0; b < strip.Blocks; b++)
                {
                    int l = (int)Math.Round(strip.Level(near + (slope * strip.DistanceMm(b))));
                    if (l >= 0 && l < strip.Levels)
                        sum += score[b][l];
                }

                if (sum > best.Score)
                    best = new CordBar(near, slope, width, sum);
            }
        }

        return best;
    }
}

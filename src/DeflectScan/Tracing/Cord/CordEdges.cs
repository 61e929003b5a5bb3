namespace DeflectScan.Tracing.Cord;

/// <summary>The bar's edges in one block.</summary>
/// <param name="DistanceMm">Of the block's middle from the start.</param>
/// <param name="CentreMm">Across the way.</param>
/// <param name="WidthMm">Between the edges.</param>
/// <param name="Contrast">The lesser side's, grey levels.</param>
internal readonly record struct CordEdge(double DistanceMm, double CentreMm, double WidthMm, double Contrast);

/// <summary>Edges of a bar near a predicted place: each side's own half level, from the background inward.</summary>
internal static class CordEdges
{
    public static List<CordEdge> Read(CordStrip strip, CordBar bar, CordOptions options)
    {
        List<CordEdge> edges = [];
        int half = CordBarSearch.Half(strip, bar.WidthMm);
        int reach = half + 6;
        Span<float> differences = stackalloc float[6];
        for (int b = 0; b < strip.Blocks; b++)
        {
            double distance = strip.DistanceMm(b);
            int centre = (int)Math.Round(strip.Level(bar.At(distance)));
            if (centre - reach < 0 || centre + reach >= strip.Levels)
                continue;
            (float left, float right) = CordBarSearch.Contrast(strip, b, centre, half, differences);
            if (Math.Min(left, right) < options.LeastContrast)
                continue;
            double from = Crossing(strip, b, centre, half, -1, differences[..3]);
            double to = Crossing(strip, b, centre, half, 1, differences[3..]);
            if (to > from)
                edges.Add(new CordEdge(distance, strip.AcrossMm((from + to) / 2), (to - from) * strip.StepMm, Math.Min(left, right)));
        }

        return edges;
    }

    // Level where the profile, along the colour difference, is half way from the background to the bar; NaN where it is not.
    private static double Crossing(CordStrip strip, int block, int centre, int half, int sense, ReadOnlySpan<float> difference)
    {
        int outer = centre + (sense * (half + 5));
        double size = 0;
        double bar = 0;
        for (int c = 0; c < 3; c++)
        {
            size += difference[c] * difference[c];
            bar += difference[c] * strip.Mean(block, c, centre - half, centre + half);
        }

        double level = bar - (0.5 * size);
        double last = Along(strip, block, outer, difference);
        for (int l = outer - sense; (l - centre) * sense >= 0; l -= sense)
        {
            double here = Along(strip, block, l, difference);
            if (last < level && here >= level)
                return l + (sense * (here - level) / (here - last));
            last = here;
        }

        return double.NaN;
    }

    private static double Along(CordStrip strip, int block, int level, ReadOnlySpan<float> difference)
    {
        double sum = 0;
        for (int c = 0; c < 3; c++)
            sum += difference[c] * strip.Value(block, c, level);
        return sum;
    }
}

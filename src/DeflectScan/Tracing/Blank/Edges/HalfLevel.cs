namespace DeflectScan.Tracing.Blank;

/// <summary>Where a profile reaches half the way from its background to the bar.</summary>
internal static class HalfLevel
{
    private const double LevelPx = 1.4; // farther out than this is background

    /// <summary>How far inward from where the outline was supposed, mm; 0 where no level is crossed.</summary>
    /// <param name="values">Value, colour: from the outermost inward.</param>
    /// <param name="outsideMm">Distance of the first value from the supposed outline.</param>
    /// <param name="step">From value to value, mm.</param>
    /// <param name="pxMm">A pixel.</param>
    public static double Of(double[] values, double outsideMm, double step, double pxMm)
    {
        int count = values.Length / 3;
        int level = Math.Clamp((int)((outsideMm - (LevelPx * pxMm)) / step), 1, count - 1);
        Colour outside = default;
        for (int k = 0; k < level; k++)
            outside += At(values, k) * (1.0 / level);
        int deep = Math.Min(count - 1, (int)((outsideMm + (1.1 * pxMm)) / step));
        Colour inside = At(values, deep);
        for (int k = deep; k < count; k++)
        {
            if ((At(values, k) - outside).Length > (inside - outside).Length)
                inside = At(values, k);
        }

        Colour way = inside - outside;
        double size = way.Dot(way);
        double before = 0;
        for (int k = level; k < count && size > 0; k++)
        {
            double share = (At(values, k) - outside).Dot(way) / size;
            if (share >= 0.5 && before < 0.5)
                return ((k - ((share - 0.5) / (share - before))) * step) - outsideMm;
            before = share;
        }

        return 0;
    }

    private static Colour At(double[] values, int k) => new(values[3 * k], values[(3 * k) + 1], values[(3 * k) + 2]);
}

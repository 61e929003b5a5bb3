using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>How much more, or less, the sights of a segment scatter than their standard deviations say.</summary>
internal static class SightSpread
{
    /// <summary>The scatter of all segments together counts as much as so many sights of the segment's own.</summary>
    private const int PooledSights = 6;

    /// <summary>No less is believed.</summary>
    private const double Least = 0.1;

    /// <summary>Unknowns of a straight line.</summary>
    private const int LineUnknowns = 2;

    /// <summary>Up to so many sights all pairs of them are taken for the slope.</summary>
    private const int MostComplete = 80;

    /// <summary>Degrees of freedom of what <see cref="OfEach"/> says of a segment.</summary>
    public static int Freedoms(int sights) => Math.Max(0, sights - LineUnknowns) + PooledSights;

    /// <summary>Per segment, the median size of offset over standard deviation, from the segment as it is; never below 1.</summary>
    public static double[] AtLeastOne(int segments, IReadOnlyList<OffsetSight> sights)
    {
        double[] spread = new double[segments];
        Array.Fill(spread, 1);
        foreach (IGrouping<int, OffsetSight> segment in sights.GroupBy(s => s.Segment))
            spread[segment.Key] = Math.Max(1, OrderStatistics.Middle(segment.Select(s => Math.Abs(s.OffsetMm) / s.SdMm)) / NormalLaw.MedianSize);
        return spread;
    }

    /// <summary>
    /// Per segment, the same about the segment's own straight line (Theil 1950, Sen 1968), also below 1. Few sights tell it badly, so it is
    /// joined with that of all segments, each weighed by its degrees of freedom.
    /// </summary>
    public static double[] OfEach(int segments, IReadOnlyList<OffsetSight> sights)
    {
        double[] own = new double[segments];
        double[] shared = new double[segments];
        int[] freedoms = new int[segments];
        List<double> all = [];
        foreach (IGrouping<int, OffsetSight> segment in sights.GroupBy(s => s.Segment))
        {
            OffsetSight[] seen = [.. segment];
            freedoms[segment.Key] = seen.Length - LineUnknowns;
            shared[segment.Key] = seen.Average(s => s.SharedShare);
            if (freedoms[segment.Key] <= 0)
                continue;
            double[] sizes = Sizes(seen);
            all.AddRange(sizes);
            own[segment.Key] = OrderStatistics.Middle(sizes) / NormalLaw.MedianSize;
        }

        double pooled = all.Count == 0 ? 1 : OrderStatistics.Middle(all) / NormalLaw.MedianSize;
        return [.. own.Select((s, i) => freedoms[i] <= 0 ? Math.Max(1, pooled) : NotBelow(Joined(s, freedoms[i], pooled), shared[i]))];
    }

    private static double Joined(double own, int freedoms, double pooled) =>
        Math.Max(Least, Math.Sqrt(((freedoms * own * own) + (PooledSights * pooled * pooled)) / (freedoms + PooledSights)));

    /// <summary>What neighbours have alike is not in the scatter: that part keeps its standard deviation.</summary>
    private static double NotBelow(double spread, double shared) =>
        spread >= 1 ? spread : Math.Sqrt((spread * spread * (1 - shared)) + shared);

    /// <summary>Residual over standard deviation about the straight line, made larger by what the line took up.</summary>
    private static double[] Sizes(OffsetSight[] seen)
    {
        List<double> slopes = [];
        for (int i = 0; i < seen.Length; i++)
        {
            // Of many sights each with the one half of them on alone, Theil's incomplete method.
            int half = Math.Max(1, seen.Length / 2);
            (int first, int step) = seen.Length <= MostComplete ? (i + 1, 1) : (i + half, seen.Length);
            for (int j = first; j < seen.Length; j += step)
            {
                if (seen[j].Fraction != seen[i].Fraction)
                    slopes.Add((seen[j].OffsetMm - seen[i].OffsetMm) / (seen[j].Fraction - seen[i].Fraction));
            }
        }

        double slope = slopes.Count == 0 ? 0 : OrderStatistics.Middle(slopes);
        double level = OrderStatistics.Middle(seen.Select(s => s.OffsetMm - (slope * s.Fraction)));
        double taken = Math.Sqrt(seen.Length / (double)(seen.Length - LineUnknowns));
        return [.. seen.Select(s => Math.Abs(s.OffsetMm - level - (slope * s.Fraction)) / s.SdMm * taken)];
    }
}

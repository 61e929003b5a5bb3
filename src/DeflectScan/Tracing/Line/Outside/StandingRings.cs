namespace DeflectScan.Tracing.Line.Outside;

/// <summary>
/// Finds what stands on the blank: seen from the side a guide's ring is a stroke of some mm across the blank, narrow along it, and most
/// guides have a wrap beside it. Clutter behind the rod gives strokes too; the line decides between them.
/// </summary>
internal static class StandingRings
{
    /// <summary>Shortest stroke that can be a ring, mm: the smallest rings in use are 4 mm (common practice, no source).</summary>
    private const double ShortestMm = 2.5;

    /// <summary>A stroke is looked for from this above the blank's surface, mm: its wrap and its halo end there.</summary>
    private const double AboveMm = 1.5;

    /// <summary>No ring is larger (mm) where the line runs in its near rim; longer strokes are something else behind it.</summary>
    private const double LongestMm = 16;

    /// <summary>A ring's frame or rim begins no higher above that, mm.</summary>
    private const double HighestFootMm = 9;

    private const double ApartMm = 6;

    /// <summary>A ring seen from its side is no wider along the blank, mm.</summary>
    private const double WidestMm = 9;

    /// <summary>Within this along the blank its wrap lies, mm.</summary>
    private const double WrapReachMm = 32;

    /// <summary>Foreground from which on a place stands out.</summary>
    private static readonly float[] Levels = [0.5f, 0.2f];

    /// <summary>Log-odds that a stroke gives at most, that a wrap beside it adds, and that its being too wide or too long takes away.</summary>
    private const double MostStroke = 5;
    private const double WrapScore = 5;
    private const double OddCost = 4;

    private const double LeastWrapMm = 5;

    /// <summary>All strokes, by station. Plain ones and faint ones are looked for each by themselves: a faint one may join up with clutter.</summary>
    public static List<StandingRing> Find(ForegroundMap map)
    {
        double[] wound = Wound(map);
        List<StandingRing> found = [];
        foreach (StandingRing ring in Levels.SelectMany(l => Find(map, wound, l)).OrderByDescending(r => r.Score))
        {
            if (found.All(r => Math.Abs(r.Station - ring.Station) > ApartMm / 2))
                found.Add(ring);
        }

        return [.. found.OrderBy(r => r.Station)];
    }

    private static IEnumerable<StandingRing> Find(ForegroundMap map, double[] wound, float stands)
    {
        BandStrip strip = map.Strip;
        (double Foot, double Top)[] strokes = new (double, double)[strip.Columns];
        Parallel.For(0, strip.Columns, c => strokes[c] = Longest(map, c, stands));
        double[] lengths = [.. strokes.Select(s => Math.Min(s.Top - s.Foot, LongestMm))];
        int near = Math.Max(1, (int)Math.Round(1 / strip.StepMm));
        double[] summed = Summed(lengths, near);
        int apart = (int)(ApartMm / strip.StepMm);
        for (int top = near; top < strip.Columns - near; top++)
        {
            if (summed[top] <= 0 || !IsTop(summed, top, apart))
                continue;

            // Of a ring seen a little from the front both sides stand, its middle need not.
            int c = Enumerable.Range(top - near, (2 * near) + 1).MaxBy(k => lengths[k]);
            if (lengths[c] < ShortestMm)
                continue;
            (int first, int last) = Extent(lengths, c, 0.5 * lengths[c]);
            double width = (last - first + 1) * strip.StepMm;
            double middle = (first + last) / 2.0;
            double look = Math.Min(MostStroke, 1.5 * (lengths[c] - ShortestMm)) - (width > WidestMm || lengths[c] >= LongestMm ? OddCost : 0);
            yield return new StandingRing(middle, strip.Station(middle), strokes[c].Foot, strokes[c].Top, look + (HasWrap(wound, strip, c) ? WrapScore : 0));
        }
    }

    /// <summary>The longest run of rows, from near the blank up, that stand out at a column; gaps of a row count as standing.</summary>
    private static (double Foot, double Top) Longest(ForegroundMap map, int column, float stands)
    {
        BandStrip strip = map.Strip;
        double surface = strip.Axis.RadiusMm(strip.Station(column)) + AboveMm;
        int low = Math.Max(0, (int)Math.Ceiling(map.RowOf(surface)));
        int highest = (int)map.RowOf(surface + HighestFootMm);
        ReadOnlySpan<float> values = map.Column(column);
        (int First, int Last) best = (0, -1);
        int first = -1;
        int last = -1;
        for (int row = low; row < map.Rows; row++)
        {
            if (values[row] < stands)
                continue;
            if (first < 0 || row > last + 2)
                (first, last) = (row, row);
            if (first > highest)
                break;
            last = row;
            if (last - first > best.Last - best.First)
                best = (first, last);
        }

        return best.Last < best.First ? (0, 0) : (strip.Height(2 * best.First), strip.Height(2 * (best.Last + 1)));
    }

    private static double[] Summed(double[] values, int reach)
    {
        double[] sums = new double[values.Length];
        for (int c = 0; c < values.Length; c++)
        {
            for (int k = Math.Max(0, c - reach); k <= Math.Min(values.Length - 1, c + reach); k++)
                sums[c] += values[k];
        }

        return sums;
    }

    private static bool IsTop(double[] values, int c, int reach)
    {
        for (int k = Math.Max(0, c - reach); k <= Math.Min(values.Length - 1, c + reach); k++)
        {
            if (values[k] > values[c] || (values[k] == values[c] && k < c))
                return false;
        }

        return true;
    }

    private static (int First, int Last) Extent(double[] lengths, int c, double least)
    {
        int first = c;
        int last = c;
        while (first > 0 && lengths[first - 1] >= least)
            first--;
        while (last < lengths.Length - 1 && lengths[last + 1] >= least)
            last++;
        return (first, last);
    }

    /// <summary>Mean foreground over the blank's own width at every column.</summary>
    private static double[] Wound(ForegroundMap map)
    {
        BandStrip strip = map.Strip;
        double[] wound = new double[strip.Columns];
        for (int c = 0; c < strip.Columns; c++)
        {
            double r = 0.7 * strip.Axis.RadiusMm(strip.Station(c));
            int low = Math.Max(0, (int)Math.Round(map.RowOf(-r)));
            int high = Math.Min(map.Rows - 1, (int)Math.Round(map.RowOf(r)));
            for (int row = low; row <= high; row++)
                wound[c] += map.Column(c)[row] / (high - low + 1);
        }

        return wound;
    }

    private static bool HasWrap(double[] wound, BandStrip strip, int column)
    {
        int reach = (int)(WrapReachMm / strip.StepMm);
        int least = (int)Math.Ceiling(LeastWrapMm / strip.StepMm);
        int run = 0;
        for (int c = Math.Max(0, column - reach); c <= Math.Min(wound.Length - 1, column + reach); c++)
        {
            run = wound[c] > 0.5 ? run + 1 : 0;
            if (run >= least)
                return true;
        }

        return false;
    }
}

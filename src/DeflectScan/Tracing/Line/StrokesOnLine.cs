namespace DeflectScan.Tracing.Line;

/// <summary>
/// Rings that stand up to the line, seen from their side, wherever they are: a narrow stroke just below the line, plainer than what lies
/// along the line beside it and joined to the blank. Also where thread of the blank's own colour leaves no wrap to see.
/// </summary>
internal static class StrokesOnLine
{
    /// <summary>The heights below the line that are looked at, mm: past the line's own width, within the ring or its frame.</summary>
    private const double NearestMm = 1.5;
    private const double FarthestMm = 7;

    /// <summary>Above the blank's surface its wraps and their halo end here, mm.</summary>
    private const double AboveMm = 1.7;

    /// <summary>No ring, seen within 30 degrees of its side, is wider along the blank than this, mm.</summary>
    private const double WidestMm = 14;

    /// <summary>So far to both sides it must be plainer than what lies there, mm.</summary>
    private const double BesideMm = 25;

    private const double Plain = 0.8;
    private const double BesideShare = 0.55;
    private const float Stands = 0.6f;

    /// <summary>So much of it must be left where crossings are taken out: before a busy wall part of a guide goes with them.</summary>
    private const double LeftShare = 0.5;

    /// <summary>Up to this share of the line's height a guide's feet spread along the blank on each side, and some mm.</summary>
    private const double SpreadShare = 0.95;
    private const double SpreadMm = 5;

    /// <summary>Stations of such strokes between two stations.</summary>
    /// <param name="map">What stands out in the band.</param>
    /// <param name="cleared">The same, what crosses behind the blank taken out.</param>
    /// <param name="fromStation">From.</param>
    /// <param name="toStation">To.</param>
    /// <param name="heightAt">Height of the line at a station, mm.</param>
    public static List<double> Find(ForegroundMap map, ForegroundMap cleared, double fromStation, double toStation, Func<double, double> heightAt)
    {
        BandStrip strip = map.Strip;
        int from = Math.Max(0, (int)strip.ColumnOf(fromStation));
        int to = Math.Min(strip.Columns - 1, (int)strip.ColumnOf(toStation));
        List<double> found = [];
        if (to <= from)
            return found;
        double[] heights = new double[to - from + 1];
        double[] plain = new double[heights.Length];
        Parallel.For(0, plain.Length, i =>
        {
            heights[i] = heightAt(strip.Station(from + i));
            plain[i] = Below(map, from + i, heights[i]);
        });
        int beside = (int)(BesideMm / strip.StepMm);
        int half = (int)(WidestMm / 2 / strip.StepMm);
        for (int i = 0; i < plain.Length; i++)
        {
            if (plain[i] < Plain || !IsTop(plain, i, half))
                continue;
            (int first, int last) = Extent(plain, i);
            if (last - first > 2 * half || Math.Max(Mean(plain, first - beside, first - 1), Mean(plain, last + 1, last + beside)) > BesideShare * plain[i])
                continue;
            int middle = (first + last) / 2;
            if (IsJoined(map, from + i, heights[i]) && Enumerable.Range(first, last - first + 1).Max(k => Below(cleared, from + k, heights[k])) > LeftShare * plain[i])
                found.Add(strip.Station(from + middle));
        }

        return found;
    }

    private static double Below(ForegroundMap map, int column, double height)
    {
        double surface = map.Strip.Axis.RadiusMm(map.Strip.Station(column)) + AboveMm;
        int low = (int)Math.Round(map.RowOf(Math.Max(surface, height - FarthestMm)));
        int high = Math.Min(map.Rows - 1, (int)Math.Round(map.RowOf(height - NearestMm)));
        if (high - low < 2)
            return 0;
        double sum = 0;
        for (int row = low; row <= high; row++)
            sum += map.Column(column)[row];
        return sum / (high - low + 1);
    }

    private static bool IsTop(double[] values, int at, int reach)
    {
        for (int k = Math.Max(0, at - reach); k <= Math.Min(values.Length - 1, at + reach); k++)
        {
            if (values[k] > values[at] || (values[k] == values[at] && k < at))
                return false;
        }

        return true;
    }

    private static (int First, int Last) Extent(double[] values, int at)
    {
        double least = 0.5 * values[at];
        int first = at;
        int last = at;
        while (first > 0 && values[first - 1] >= least)
            first--;
        while (last < values.Length - 1 && values[last + 1] >= least)
            last++;
        return (first, last);
    }

    private static double Mean(double[] values, int from, int to)
    {
        double sum = 0;
        int n = 0;
        for (int k = Math.Max(0, from); k <= Math.Min(values.Length - 1, to); k++, n++)
            sum += values[k];
        return n == 0 ? 0 : sum / n;
    }

    /// <summary>Whether what stands there goes on, however it leans, down to the blank's surface.</summary>
    private static bool IsJoined(ForegroundMap map, int column, double height)
    {
        BandStrip strip = map.Strip;
        int reach = (int)(((SpreadShare * height) + SpreadMm) / strip.StepMm);
        int first = Math.Max(0, column - reach);
        int last = Math.Min(strip.Columns - 1, column + reach);
        int low = (int)Math.Round(map.RowOf(strip.Axis.RadiusMm(strip.Station(column)) + AboveMm));
        int high = Math.Min(map.Rows - 1, (int)Math.Round(map.RowOf(height - NearestMm)));
        bool[] seen = new bool[(last - first + 1) * (high - low + 1)];
        Stack<(int Column, int Row)> open = [];
        void Visit(int c, int row)
        {
            int at = ((c - first) * (high - low + 1)) + row - low;
            if (seen[at] || map.Column(c)[row] < Stands)
                return;
            seen[at] = true;
            open.Push((c, row));
        }

        for (int row = low; row <= high; row++)
        {
            if (strip.Height(2 * row) > height - FarthestMm)
                Visit(column, row);
        }

        // A gap of one sample, where a frame is as bright as the wall, does not part it.
        while (open.Count > 0)
        {
            (int c, int row) = open.Pop();
            if (row == low)
                return true;
            for (int dc = -2; dc <= 2; dc++)
            {
                for (int dr = -2; dr <= 2; dr++)
                {
                    if (c + dc >= first && c + dc <= last && row + dr >= low && row + dr <= high)
                        Visit(c + dc, row + dr);
                }
            }
        }

        return false;
    }
}

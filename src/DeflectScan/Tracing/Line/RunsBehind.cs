namespace DeflectScan.Tracing.Line;

/// <summary>
/// Cables, stands, joints and frames behind the rod cross it: what stands out on one side goes on along the same straight way on the other.
/// A guide stands on one side alone. Here such crossings are taken out of the foreground, so that what is left can be a guide.
/// </summary>
internal static class RunsBehind
{
    /// <summary>From here above the blank's surface, on both sides, past a wrap's thickness and the edge's blur, mm.</summary>
    private const double ClearMm = 1.7;

    /// <summary>How far a crossing is looked at on the guides' side, mm.</summary>
    private const double NearMm = 9;

    /// <summary>Mean foreground on both sides from which on something crosses.</summary>
    private const double Stands = 0.7;

    /// <summary>Flattest crossing that is looked for: so far along the blank for its height.</summary>
    private const double MostLean = 2.2;
    private const double LeanStep = 0.06;

    /// <summary>Rows on each side without which nothing can be told.</summary>
    private const int LeastRows = 4;

    /// <summary>The map without crossings: their way is cleared over the map's whole height, a little wider than one column.</summary>
    public static ForegroundMap Cleared(ForegroundMap map)
    {
        float[] values = map.Copy();
        int columns = map.Strip.Columns;
        List<(int Column, double Lean)>[] crossings = new List<(int, double)>[columns];
        Parallel.For(0, columns, c => crossings[c] = [.. Leans(map, c)]);
        foreach ((int column, double lean) in crossings.SelectMany(c => c))
            Clear(map, values, column, lean);
        return map.With(values);
    }

    private static IEnumerable<(int Column, double Lean)> Leans(ForegroundMap map, int column)
    {
        double clear = map.Strip.Axis.RadiusMm(map.Strip.Station(column)) + ClearMm;
        double zero = map.RowOf(0);
        int farTop = (int)Math.Floor(map.RowOf(-clear));
        int nearLow = (int)Math.Ceiling(map.RowOf(clear));
        int nearTop = Math.Min(map.Rows - 1, (int)map.RowOf(clear + NearMm));
        if (farTop + 1 < LeastRows || nearTop - nearLow + 1 < LeastRows)
            yield break;
        for (double lean = -MostLean; lean <= MostLean; lean += LeanStep)
        {
            if (Mean(map, column, lean, zero, 0, farTop) > Stands && Mean(map, column, lean, zero, nearLow, nearTop) > Stands)
                yield return (column, lean);
        }
    }

    private static double Mean(ForegroundMap map, int column, double lean, double zero, int low, int high)
    {
        double sum = 0;
        for (int row = low; row <= high; row++)
        {
            int at = (int)Math.Round(column + (lean * (row - zero)));
            if (at >= 0 && at < map.Strip.Columns)
                sum += map.Column(at)[row];
        }

        return sum / (high - low + 1);
    }

    private static void Clear(ForegroundMap map, float[] values, int column, double lean)
    {
        double zero = map.RowOf(0);
        for (int row = (int)zero; row < map.Rows; row++)
        {
            int at = (int)Math.Round(column + (lean * (row - zero)));
            for (int c = Math.Max(0, at - 1); c <= Math.Min(map.Strip.Columns - 1, at + 1); c++)
                values[(c * map.Rows) + row] = 0;
        }
    }
}

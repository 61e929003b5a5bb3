namespace DeflectScan.Tracing.Line;

/// <summary>
/// Where thread is wound on the blank. A wrap of another colour stands out over the blank's whole width; one of the blank's own colour only
/// by being thicker: a thin layer that stands out along both edges at once, with nothing beyond it on either side.
/// </summary>
internal static class WrapLook
{
    /// <summary>Share of the blank's radius over which its own colour shows, clear of the edges' blur.</summary>
    private const double InnerShare = 0.7;

    /// <summary>No wrap and its finish make the blank thicker than this on one side, mm (common practice, no source).</summary>
    private const double ThickestMm = 1.2;

    /// <summary>Beyond the layer, from here on for so far, only what lies behind the rod stands out, mm.</summary>
    private const double BeyondMm = 2.5;
    private const double BeyondLengthMm = 3;

    /// <summary>Shortest wrap by its colour, and by its thickness alone, mm: holes and joints behind the rod are as short as the first.</summary>
    private const double LeastMm = 6;
    private const double LeastThickMm = 9;

    /// <summary>Mean over a wrap's length from which on it may be one.</summary>
    private const double Faint = 0.15;

    /// <summary>From here on a column shows a wrap.</summary>
    private const double Shows = 0.6;

    /// <summary>Stations between two columns of wraps that their colour shows, whatever lies behind the rod.</summary>
    public static IEnumerable<double> Coloured(ForegroundMap map, int fromColumn, int toColumn) =>
        Runs(map.Strip, fromColumn, toColumn, LeastMm, c => Mean(map, c, -InnerShare * Radius(map.Strip, c), InnerShare * Radius(map.Strip, c)));

    /// <summary>Stations between two columns of wraps that their thickness shows, where what lies behind the rod is even enough.</summary>
    public static IEnumerable<double> Thick(ForegroundMap map, int fromColumn, int toColumn) =>
        Runs(map.Strip, fromColumn, toColumn, LeastThickMm, c => Thickened(map, c, Radius(map.Strip, c)));

    /// <summary>Whether the blank looks thicker, if only faintly, for a wrap's length somewhere between two stations: all that may show of one before a busy wall.</summary>
    public static bool IsFaintBetween(ForegroundMap map, double fromStation, double toStation)
    {
        BandStrip strip = map.Strip;
        int from = Math.Max(0, (int)strip.ColumnOf(fromStation));
        int to = Math.Min(strip.Columns - 1, (int)strip.ColumnOf(toStation));
        int length = (int)Math.Ceiling(LeastThickMm / strip.StepMm);
        double sum = 0;
        for (int c = from; c <= to; c++)
        {
            sum += Thickened(map, c, Radius(strip, c));
            if (c - length >= from)
                sum -= Thickened(map, c - length, Radius(strip, c - length));
            if (c - from + 1 >= length && sum > Faint * length)
                return true;
        }

        return false;
    }

    private static IEnumerable<double> Runs(BandStrip strip, int from, int to, double leastMm, Func<int, double> shown)
    {
        int least = (int)Math.Ceiling(leastMm / strip.StepMm);
        int run = 0;
        for (int c = from; c <= to; c++)
        {
            run = shown(c) > Shows ? run + 1 : 0;
            if (run == least)
                yield return strip.Station(c - (least / 2.0));
        }
    }

    private static double Radius(BandStrip strip, int column) => strip.Axis.RadiusMm(strip.Station(column));

    private static double Thickened(ForegroundMap map, int column, double radiusMm) =>
        Math.Min(Layer(map, column, radiusMm, 1), Layer(map, column, radiusMm, -1));

    /// <summary>What stands out along one edge less what stands out beyond it.</summary>
    private static double Layer(ForegroundMap map, int column, double radiusMm, int side)
    {
        double half = 0.5 * map.Strip.StepMm;
        double near = Most(map, column, side * (radiusMm - half), side * (radiusMm + ThickestMm + half));
        return near - Mean(map, column, side * (radiusMm + BeyondMm + half), side * (radiusMm + BeyondMm + BeyondLengthMm + half));
    }

    private static double Mean(ForegroundMap map, int column, double fromMm, double toMm)
    {
        ReadOnlySpan<float> rows = Rows(map, column, fromMm, toMm);
        double sum = 0;
        foreach (float value in rows)
            sum += value;
        return rows.Length == 0 ? 0 : sum / rows.Length;
    }

    private static double Most(ForegroundMap map, int column, double fromMm, double toMm)
    {
        float most = 0;
        foreach (float value in Rows(map, column, fromMm, toMm))
            most = Math.Max(most, value);
        return most;
    }

    private static ReadOnlySpan<float> Rows(ForegroundMap map, int column, double fromMm, double toMm)
    {
        int low = Math.Clamp((int)Math.Round(map.RowOf(Math.Min(fromMm, toMm))), 0, map.Rows - 1);
        int high = Math.Clamp((int)Math.Round(map.RowOf(Math.Max(fromMm, toMm))), low, map.Rows - 1);
        return map.Column(column)[low..(high + 1)];
    }
}


namespace DeflectScan.Tracing.Blank;

/// <summary>The path of most contrast through a band, by dynamic programming over its columns: a change of direction costs.</summary>
internal static class BarPath
{
    private const int Reach = 2; // columns that the path may move from one station to the next
    private const double MovePrice = 0.08; // of the bar's usual contrast, a column

    /// <summary>Offsets in mm for the first <paramref name="count"/> stations.</summary>
    /// <param name="band">Profiles.</param>
    /// <param name="finder">Reader of that band.</param>
    /// <param name="radiusMm">Expected half width at each station.</param>
    /// <param name="allowedMm">How far from the middle the path may lie at each station.</param>
    /// <param name="typical">Contrast above which more earns nothing.</param>
    /// <param name="count">Stations to use.</param>
    public static double[] Find(ProfileBand band, EdgeFinder finder, Func<int, double> radiusMm, Func<int, double> allowedMm, double typical, int count)
    {
        int columns = band.Columns;
        double[] value = new double[columns];
        double[] earlier = new double[columns];
        int[][] from = new int[count][];
        for (int i = 0; i < count; i++)
        {
            (value, earlier) = (earlier, value);
            from[i] = new int[columns];
            finder.Look(i);
            double radius = radiusMm(i);
            double allowed = allowedMm(i);
            for (int c = 0; c < columns; c++)
            {
                value[c] = double.NegativeInfinity;
                double offset = band.Offset(c);
                if (Math.Abs(offset) > allowed)
                    continue;
                double gain = Math.Min(finder.Contrast(offset, radius), typical);
                if (i == 0)
                {
                    value[c] = gain;
                    continue;
                }

                for (int p = Math.Max(0, c - Reach); p <= Math.Min(columns - 1, c + Reach); p++)
                {
                    double through = earlier[p] + gain - (MovePrice * typical * Math.Abs(c - p));
                    if (through > value[c])
                        (value[c], from[i][c]) = (through, p);
                }
            }
        }

        double[] path = new double[count];
        int at = Array.IndexOf(value, value.Max());
        for (int i = count - 1; i >= 0; i--)
        {
            path[i] = band.Offset(at);
            at = from[i][at];
        }

        return path;
    }
}

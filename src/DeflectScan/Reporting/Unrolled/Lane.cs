namespace DeflectScan.Reporting.Unrolled;

/// <summary>
/// Sets labels in a lane beside the band: each as near its own x as it can stand, in as few rows as it takes. From left to right, deterministic.
/// </summary>
internal static class Lane
{
    /// <summary>Centre and row of each label; row 0 is next to the band.</summary>
    /// <param name="wanted">Wanted centre x and width of each label, px, in any order.</param>
    /// <param name="space">Least distance between two labels, px.</param>
    /// <param name="widthPx">Labels stay between 0 and this.</param>
    public static IReadOnlyList<(double X, int Row)> Arrange(IReadOnlyList<(double X, double Width)> wanted, double space, double widthPx)
    {
        (double X, int Row)[] placed = new (double, int)[wanted.Count];
        List<double> ends = [];
        foreach (int i in Enumerable.Range(0, wanted.Count).OrderBy(i => wanted[i].X))
        {
            (double x, double width) = wanted[i];
            x = Math.Clamp(x, (width / 2) + space, widthPx - (width / 2) - space);
            int row = ends.FindIndex(end => x - (width / 2) >= end + space);
            if (row < 0)
            {
                row = ends.Count;
                ends.Add(0);
            }

            ends[row] = x + (width / 2);
            placed[i] = (x, row);
        }

        return placed;
    }
}

namespace DeflectScan.Tracing.Blank;

/// <summary>How surely a profile shows the bar that is followed.</summary>
internal enum Sight
{
    /// <summary>Neither edge is where the bar's should be.</summary>
    None,

    /// <summary>One edge is.</summary>
    OneEdge,

    /// <summary>Both are, in enough contrast.</summary>
    Bar,
}

/// <summary>How far a bar goes on along its stations: through short unseen stretches, but not on chance hits beyond a long one.</summary>
/// <param name="StationMm">Distance of the stations.</param>
/// <param name="LongestGapMm">Longest stretch, stations with one edge not counted, that is bridged.</param>
internal readonly record struct BarRun(double StationMm, double LongestGapMm)
{
    /// <summary>Index of the last station of the run that starts with a known one at <paramref name="known"/>, going up.</summary>
    public int LastGood(ReadOnlySpan<Sight> sights, int known)
    {
        int last = known;
        int unseen = 0;
        int i = known + 1;
        while (i < sights.Length)
        {
            if (sights[i] != Sight.Bar)
            {
                unseen += sights[i] == Sight.None ? 1 : 0;
                i++;
                continue;
            }

            if (unseen * StationMm > LongestGapMm)
                return last;
            // After a gap only a dense run about as long as the gap is believed.
            int gap = i - last - 1;
            int run = gap == 0 ? 1 : Math.Max(3, (int)(Math.Min(gap * StationMm, 80) / StationMm));
            int end = Math.Min(sights.Length, i + run);
            int hits = 0;
            for (int k = i; k < end; k++)
                hits += sights[k] == Sight.Bar ? 1 : 0;
            if (hits < 0.75 * run)
            {
                unseen++;
                i++;
                continue;
            }

            for (; i < end; i++)
                last = sights[i] == Sight.Bar ? i : last;
            unseen = 0;
        }

        return last;
    }
}

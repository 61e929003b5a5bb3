namespace DeflectScan.Layout;

/// <summary>How high the ring of a guide stands that was not measured: one rule wherever a guide is added.</summary>
internal static class AddedRing
{
    /// <summary>
    /// Distance from the axis in mm: that of the next guide towards the tip, as rings do not grow that way; before the tip-top that of the last guide, as the
    /// tip-top's own ring sits lower than any guide's.
    /// </summary>
    /// <param name="guides">As they stand then, without the tip-top.</param>
    /// <param name="tip">The tip-top's.</param>
    /// <param name="atMm">Station of the added guide.</param>
    public static double DistanceMm(IReadOnlyList<RingPoint> guides, RingPoint tip, double atMm)
    {
        RingPoint[] sorted = [.. guides.OrderByDescending(p => p.StationMm)];
        if (sorted.Length == 0)
            return tip.DistanceMm;
        int next = Array.FindIndex(sorted, p => p.StationMm < atMm);
        return next < 0 ? sorted[^1].DistanceMm : sorted[next].DistanceMm;
    }
}

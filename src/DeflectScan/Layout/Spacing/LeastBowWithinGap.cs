namespace DeflectScan.Layout.Spacing;

/// <summary>
/// The bow of intervals whose gap stays within a limit; others cost infinitely much. Of all layouts with the least largest gap, which a ring's height alone often
/// settles, one with a small largest bow spaces the guides best.
/// </summary>
internal sealed class LeastBowWithinGap(IEdgeCosts gap, double largestGapMm, IEdgeCosts bow) : IEdgeCosts
{
    private readonly double _above = Math.BitIncrement(largestGapMm);

    public double Least => bow.Least;

    public double Cost(int tipward, int buttward) => gap.Cost(tipward, buttward) <= largestGapMm ? bow.Cost(tipward, buttward) : double.PositiveInfinity;

    public int Test(int tipward, int buttward, double limit)
    {
        int next = gap.Test(tipward, buttward, _above);
        return next == buttward ? bow.Test(tipward, buttward, limit) : next;
    }
}

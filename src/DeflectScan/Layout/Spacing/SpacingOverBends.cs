using System.Diagnostics.CodeAnalysis;

namespace DeflectScan.Layout.Spacing;

/// <summary>Running-guide stations for several bends of one blank at once.</summary>
/// <param name="StationsMm">The free guides from the reel to the tip, from the tip; without the held guide and the tip-top.</param>
/// <param name="WorstRatio">
/// The largest bow over the smallest largest bow that any layout of as many guides has at that bend, at the bend where this ratio is worst; 1 would be
/// best everywhere.
/// </param>
/// <param name="LeastBowsMm">For each bend the smallest largest bow that a layout made for it alone has.</param>
public sealed record RangePlan(IReadOnlyList<double> StationsMm, double WorstRatio, IReadOnlyList<double> LeastBowsMm);

/// <summary>
/// The layout that is best over a range of loads: exact minimax over the bends of the largest bow relative to what is possible at that bend. Relative, since
/// the deepest bend has the largest bows by far and would decide alone otherwise.
/// </summary>
public static class SpacingOverBends
{
    private const double LeastBowMm = 0.05;

    /// <summary>The plan; false when no layout fits the options.</summary>
    /// <param name="shapes">The blank at each load, one at least, of one length.</param>
    /// <param name="heldMm">Station of the last held guide.</param>
    /// <param name="tipMm">Station of the tip-top's ring.</param>
    /// <param name="guides">Free guides between both.</param>
    /// <param name="options">Constraints; the goal is the bow.</param>
    /// <param name="plan">The layout.</param>
    public static bool TryBest(
        IReadOnlyList<BlankShape> shapes, double heldMm, double tipMm, int guides, SpacingOptions options, [NotNullWhen(true)] out RangePlan? plan)
    {
        ArgumentOutOfRangeException.ThrowIfZero(shapes.Count);
        plan = null;
        RunningSpan span = RunningSpan.ForBow(heldMm, tipMm);
        SpacingNodes[] nodes = [.. shapes.Select(s => new SpacingNodes(s, span, options))];
        ChordCosts[] costs = [.. nodes.Select(ChordCosts.ForBow)];
        double[] least = new double[shapes.Count];
        for (int k = 0; k < shapes.Count; k++)
        {
            if (SpacingRule.Search(nodes[k], costs[k], guides, options) is not { } best)
                return false;
            least[k] = SpacingRule.Values(costs[k], best).Max();
        }

        WorstOfBends worst = new(costs, [.. least.Select(l => Math.Max(l, LeastBowMm))]);
        if (SpacingRule.Search(nodes[0], worst, guides, options) is not { } found)
            return false;
        int[] chosen = SpacingRule.Evened(nodes[0], worst, found, options);
        plan = new RangePlan(
            [.. chosen.Skip(1).Take(guides).Reverse().Select(i => nodes[0].Stations[i])], SpacingRule.Values(worst, chosen).Max(), least);
        return true;
    }

    /// <summary>An interval's worst cost over the bends, each in its own unit.</summary>
    private sealed class WorstOfBends(ChordCosts[] costs, double[] units) : IEdgeCosts
    {
        public double Least => 0;

        public double Cost(int tipward, int buttward)
        {
            double worst = 0;
            for (int k = 0; k < costs.Length; k++)
                worst = Math.Max(worst, costs[k].Cost(tipward, buttward) / units[k]);
            return worst;
        }

        public int Test(int tipward, int buttward, double limit)
        {
            int next = buttward;
            for (int k = 0; k < costs.Length; k++)
                next = Math.Max(next, costs[k].Test(tipward, buttward, limit * units[k]));
            return next;
        }
    }
}

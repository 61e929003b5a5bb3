using System.Diagnostics.CodeAnalysis;

namespace DeflectScan.Layout.Spacing;

/// <summary>
/// The exact best running-guide stations on a measured axis: the smallest largest bow (or gap) for a number of guides, the fewest guides
/// for a largest allowed one, and how the one falls with the other.
/// </summary>
public static class SpacingRule
{
    // Coarser grids first: their best layout is also one of the finer grid's, and bounds what the finer grid needs to look at.
    private static readonly int[] CoarseStrides = [64, 16, 4];

    // Nodes to each side of a good layout's guides that are looked at before all are.
    private const int Nearby = 8;

    /// <summary>mm by which the largest bow or gap may miss the smallest possible one: far below what the curve is known to.</summary>
    private const double ExactMm = 1e-6;

    /// <summary>The best layout of a number of free guides; false when none fits the options.</summary>
    /// <param name="shape">The blank.</param>
    /// <param name="span">From the last held guide to the tip-top.</param>
    /// <param name="guides">Free guides between both, 0 or more.</param>
    /// <param name="options">Constraints and goal.</param>
    /// <param name="plan">The layout.</param>
    public static bool TryBest(
        BlankShape shape, RunningSpan span, int guides, SpacingOptions options, [NotNullWhen(true)] out SpacingPlan? plan)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(guides);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(span.TipMm, span.HeldMm);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(options.GridMm, 0);
        return TryBest(Costs.Of(shape, span, options), guides, options, out plan);
    }

    /// <summary>The fewest free guides whose best layout keeps every interval within a limit; false when not even <paramref name="mostGuides"/> do.</summary>
    public static bool TryWithin(
        BlankShape shape, RunningSpan span, double limitMm, SpacingOptions options, [NotNullWhen(true)] out SpacingPlan? plan, int mostGuides = 30)
    {
        plan = Plans(shape, span, mostGuides, options).FirstOrDefault(p => p.LargestMm <= limitMm);
        return plan is not null;
    }

    /// <summary>The best layout for 0, 1, 2 … guides, as far as any fits: where one more stops paying.</summary>
    public static IReadOnlyList<SpacingPlan> Curve(BlankShape shape, RunningSpan span, int mostGuides, SpacingOptions options) =>
        [.. Plans(shape, span, mostGuides, options)];

    private static IEnumerable<SpacingPlan> Plans(BlankShape shape, RunningSpan span, int mostGuides, SpacingOptions options)
    {
        Costs costs = Costs.Of(shape, span, options);
        for (int n = 0; n <= mostGuides && (n + 1) * options.LeastSpacingMm <= span.HeldMm - span.TipMm; n++)
        {
            if (TryBest(costs, n, options, out SpacingPlan? plan))
                yield return plan;
        }
    }

    private static bool TryBest(Costs costs, int guides, SpacingOptions options, [NotNullWhen(true)] out SpacingPlan? plan)
    {
        plan = null;
        SpacingNodes nodes = costs.Nodes;
        IEdgeCosts goal = costs.Gap ?? costs.Bow;
        if (Search(nodes, goal, guides, options) is not { } best)
            return false;
        IEdgeCosts level = goal;
        if (costs.Gap is { } gap)
        {
            double largest = Values(gap, best).Max();
            level = new LeastBowWithinGap(gap, largest, costs.Bow);
            best = Search(nodes, costs.Bow, guides, options) is { } leastBow && Values(gap, leastBow).Max() <= largest
                ? leastBow
                : Levelled(nodes, level, best, options);
        }

        best = Evened(nodes, level, best, options);
        plan = new SpacingPlan([.. best.Skip(1).Take(guides).Reverse().Select(i => nodes.Stations[i])], Values(goal, best).Max());
        return true;
    }

    /// <summary>
    /// The nodes of a layout whose largest cost is as small as it can be, to <see cref="ExactMm"/>; null when none fits. Coarse grids come first, then the
    /// nodes around the best layout so far; the search ends when, of all nodes, no layout lies below it.
    /// </summary>
    internal static int[]? Search(SpacingNodes nodes, IEdgeCosts costs, int guides, SpacingOptions options)
    {
        Best best = new(null, double.PositiveInfinity);
        foreach (int stride in CoarseStrides)
            best = Lowered(On(Used(nodes, stride)), costs, best, 1e-3 * stride, 0.02);
        SpacingSearch all = On(Used(nodes, 1));
        if (best.Nodes is null)
            best = Lowered(all, costs, best, double.MaxValue, 0);
        while (best.Nodes is { } around)
        {
            best = Lowered(On(Around(nodes, around)), costs, best, ExactMm, 1e-3);
            if (best.LargestMm <= costs.Least || all.Below(best.LargestMm - ExactMm) is not { } found)
                break;
            best = new Best(found, Values(costs, found).Max());
            best = Lowered(all, costs, best, 1e-3 * best.LargestMm, 1e-3);
        }

        return best.Nodes;

        SpacingSearch On(int[] used) => new(costs, nodes.Stations, used, guides + 1, options);
    }

    // Lower among every few nodes and those around a layout, then among those around what was found: nearly the lowest, without a proof over all nodes.
    private static int[] Levelled(SpacingNodes nodes, IEdgeCosts costs, int[] layout, SpacingOptions options)
    {
        Best best = new(layout, Values(costs, layout).Max());
        best = Lowered(On([.. Used(nodes, CoarseStrides[^1]).Union(Around(nodes, layout)).Order()]), costs, best, 0.02 * best.LargestMm, 0.1);
        return Lowered(On(Around(nodes, best.Nodes!)), costs, best, 0.01 * best.LargestMm, 0.02).Nodes!;

        SpacingSearch On(int[] used) => new(costs, nodes.Stations, used, layout.Length - 1, options);
    }

    // Halves in on the smallest limit that some layout stays below. The first step down is a share of the best value.
    private static Best Lowered(SpacingSearch search, IEdgeCosts costs, Best best, double toleranceMm, double firstStep)
    {
        double none = costs.Least;
        double step = firstStep;
        while (best.LargestMm - none > toleranceMm)
        {
            double limit = double.IsPositiveInfinity(best.LargestMm)
                ? best.LargestMm
                : Math.Max((none + best.LargestMm) / 2, Math.Min(best.LargestMm * (1 - step), best.LargestMm - (toleranceMm / 2)));
            int[]? found = search.Below(limit);
            double largest = found is null ? double.PositiveInfinity : Values(costs, found).Max();
            if (largest < best.LargestMm || (found is not null && best.Nodes is null))
                (best, step) = (new Best(found, largest), Math.Max(2 * step, 1e-3));
            else if (best.Nodes is null)
                break;
            else
                (none, step) = (limit, 1);
        }

        return best;
    }

    private static int[] Used(SpacingNodes nodes, int stride)
    {
        int last = nodes.Stations.Length - 1;
        return [.. Enumerable.Range(0, last).Where(i => i % stride == 0), last];
    }

    private static int[] Around(SpacingNodes nodes, int[] layout)
    {
        int last = nodes.Stations.Length - 1;
        return [.. layout.SelectMany(c => Enumerable.Range(c - Nearby, (2 * Nearby) + 1)).Where(i => i >= 0 && i <= last).Append(0).Append(last).Distinct().Order()];
    }

    internal static double[] Values(IEdgeCosts costs, int[] layout)
    {
        double[] values = new double[layout.Length - 1];
        for (int i = 0; i < values.Length; i++)
            values[i] = costs.Cost(layout[i], layout[i + 1]);
        return values;
    }

    /// <summary>
    /// Of the many layouts with the same largest value one that is even elsewhere too: each guide is moved node by node
    /// while the sum of squares of its two intervals falls, nothing exceeds the largest and the constraints hold.
    /// </summary>
    internal static int[] Evened(SpacingNodes nodes, IEdgeCosts costs, int[] layout, SpacingOptions options)
    {
        int[] even = [.. layout];
        double limit = Values(costs, layout).Max();
        bool moved = true;
        for (int pass = 0; moved && pass < 200; pass++)
        {
            moved = false;
            for (int k = 1; k < even.Length - 1; k++)
            {
                foreach (int step in (ReadOnlySpan<int>)[-1, 1])
                {
                    int to = even[k] + step;
                    if (to <= even[k - 1] || to >= even[k + 1] || Pair(to) >= Pair(even[k]) - 1e-12)
                        continue;
                    int old = even[k];
                    even[k] = to;
                    if (Allowed(k))
                        moved = true;
                    else
                        even[k] = old;
                }

                double Pair(int at)
                {
                    double below = costs.Cost(even[k - 1], at);
                    double above = costs.Cost(at, even[k + 1]);
                    return Math.Max(below, above) > limit ? double.PositiveInfinity : (below * below) + (above * above);
                }
            }
        }

        return even;
        bool Allowed(int k)
        {
            for (int i = Math.Max(1, k - 1); i <= Math.Min(even.Length - 1, k + 2); i++)
            {
                double spacing = nodes.Stations[even[i]] - nodes.Stations[even[i - 1]];
                double before = i > 1 ? nodes.Stations[even[i - 1]] - nodes.Stations[even[i - 2]] : 0;
                if (spacing < options.LeastSpacingMm - 1e-9 || (options.NotGrowingTowardTip && spacing < before - 1e-9))
                    return false;
            }

            return true;
        }
    }

    /// <summary>The places and what their intervals cost; Gap is null when only the bow counts.</summary>
    private sealed record Costs(SpacingNodes Nodes, IEdgeCosts Bow, IEdgeCosts? Gap)
    {
        public static Costs Of(BlankShape shape, RunningSpan span, SpacingOptions options)
        {
            SpacingNodes nodes = new(shape, span, options);
            return new Costs(nodes, ChordCosts.ForBow(nodes), options.Goal == SpacingGoal.Gap ? ChordCosts.ForGap(nodes, shape, span) : null);
        }
    }

    private sealed record Best(int[]? Nodes, double LargestMm);
}

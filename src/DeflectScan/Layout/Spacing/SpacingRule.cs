using System.Diagnostics.CodeAnalysis;

namespace DeflectScan.Layout.Spacing;

/// <summary>
/// The exact best running-guide stations on a measured axis: the smallest largest bow (or gap) for a number of guides, the fewest guides
/// for a largest allowed one, and how the one falls with the other.
/// </summary>
public static class SpacingRule
{
    // Coarser grids first: their best layout is also one of the finer grid's, and bounds what the finer grid needs to look at.
    private static readonly int[] Strides = [64, 16, 4, 1];

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
        SpacingNodes nodes = new(shape, span, options);
        return TryBest(nodes, CostsOf(nodes, shape, span, options.Goal), guides, options, out plan);
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
        SpacingNodes nodes = new(shape, span, options);
        IEdgeCosts costs = CostsOf(nodes, shape, span, options.Goal);
        for (int n = 0; n <= mostGuides && (n + 1) * options.LeastSpacingMm <= span.HeldMm - span.TipMm; n++)
        {
            if (TryBest(nodes, costs, n, options, out SpacingPlan? plan))
                yield return plan;
        }
    }

    private static bool TryBest(SpacingNodes nodes, IEdgeCosts costs, int guides, SpacingOptions options, [NotNullWhen(true)] out SpacingPlan? plan)
    {
        plan = null;
        if (Search(nodes, costs, guides, options) is not { } best)
            return false;
        best = Evened(nodes, costs, best, options);
        double[] values = Values(costs, best);
        Array.Reverse(values);
        plan = new SpacingPlan([.. best.Skip(1).Take(guides).Reverse().Select(i => nodes.Stations[i])], values, values.Max());
        return true;
    }

    /// <summary>
    /// The nodes of a layout whose largest cost is as small as it can be; null when none fits. From coarse grids to the finest the limit is
    /// halved in, and on the finest the search ends when nothing lies below the best found.
    /// </summary>
    internal static int[]? Search(SpacingNodes nodes, IEdgeCosts costs, int guides, SpacingOptions options)
    {
        int[]? best = null;
        double largest = double.PositiveInfinity;
        int last = nodes.Stations.Length - 1;
        foreach (int stride in Strides)
        {
            int[] used = stride == 1 ? [.. Enumerable.Range(0, last + 1)] : [.. Enumerable.Range(0, last).Where(i => i % stride == 0), last];
            SpacingSearch search = new(costs, nodes.Stations, used, guides + 1, options);
            double none = costs.Least;
            double step = 0.01;
            while (largest > none)
            {
                double width = largest - none;
                double limit = double.IsPositiveInfinity(largest) ? largest
                    : width < (stride == 1 ? 1e-4 : 3e-3) * largest ? largest
                    : Math.Max(none + (width / 2), largest * (1 - step));
                if (limit == largest && stride > 1 && best is not null)
                    break;
                if (search.Below(limit) is { } found)
                {
                    found = Evened(nodes, costs, found, options);
                    double value = Values(costs, found).Max();
                    if (value >= largest)
                        break;
                    (best, largest) = (found, value);
                    step *= 2;
                }
                else
                {
                    none = limit;
                    step = 1;
                }
            }
        }

        return best;
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

    private static IEdgeCosts CostsOf(SpacingNodes nodes, BlankShape shape, RunningSpan span, SpacingGoal goal) =>
        goal == SpacingGoal.Gap ? ChordCosts.ForGap(nodes, shape, span) : ChordCosts.ForBow(nodes);
}

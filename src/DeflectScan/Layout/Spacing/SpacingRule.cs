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
        Costs costs = new(shape, span, options);
        return TryBest(costs, guides, options, out plan);
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
        Costs costs = new(shape, span, options);
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

        // The layout of the least bow is nearly the one of the least gap: it bounds what is to be looked at, and settles it where a ring that
        // stays has the largest gap itself.
        if (Search(nodes, costs.Bow, guides, options, null) is not { } best)
            return false;
        IEdgeCosts goal = costs.Bow;
        best = Evened(nodes, goal, best, options);
        if (costs.Gap is { } gap)
        {
            goal = gap;
            best = Values(gap, best).Max() <= gap.Least + 1e-9
                ? best
                : Evened(nodes, gap, Search(nodes, gap, guides, options, best) ?? best, options);
        }

        double[] values = Values(goal, best);
        Array.Reverse(values);
        plan = new SpacingPlan([.. best.Skip(1).Take(guides).Reverse().Select(i => nodes.Stations[i])], values, values.Max());
        return true;
    }

    internal static int[]? Search(SpacingNodes nodes, IEdgeCosts costs, int guides, SpacingOptions options, int[]? start)
    {
        int[]? best = start;
        double limit = best is null ? double.PositiveInfinity : Values(costs, best).Max();
        int last = nodes.Stations.Length - 1;
        foreach (int stride in Strides)
        {
            if (limit <= costs.Least + 1e-9)
                break;
            int[] used = [.. Enumerable.Range(0, last).Where(i => i % stride == 0), last];
            best = new SpacingSearch(costs, nodes.Stations, used, guides + 1, options, limit).Best() ?? best;
            if (best is not null)
                limit = Values(costs, best).Max();
        }

        return best;
    }

    internal static double[] Values(IEdgeCosts costs, int[] layout) =>
        [.. layout.Zip(layout.Skip(1), (a, b) => costs.Edge(a, b, double.PositiveInfinity).Cost)];

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
                    double below = costs.Edge(even[k - 1], at, double.PositiveInfinity).Cost;
                    double above = costs.Edge(at, even[k + 1], double.PositiveInfinity).Cost;
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
    private sealed record Costs(SpacingNodes Nodes, BowCosts Bow, GapCosts? Gap)
    {
        public Costs(BlankShape shape, RunningSpan span, SpacingOptions options)
            : this(new SpacingNodes(shape, span, options), options.Goal, shape, span)
        {
        }

        private Costs(SpacingNodes nodes, SpacingGoal goal, BlankShape shape, RunningSpan span)
            : this(nodes, new BowCosts(nodes), goal == SpacingGoal.Gap ? new GapCosts(nodes, shape, span) : null)
        {
        }
    }
}

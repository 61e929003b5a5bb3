using DeflectScan.Layout;
using DeflectScan.Layout.Spacing;
using DeflectScan.Scenes.Rods;

namespace DeflectScan.Tests.Layout;

public class SpacingRuleTests
{
    /// <summary>Every layout of up to six guides on a coarse grid is tried; intervals are measured by the rule that judges layouts, not by the search's own costs.</summary>
    [Theory]
    [InlineData(SpacingGoal.Bow, 250)]
    [InlineData(SpacingGoal.Gap, 250)]
    public void TheOptimumIsThatOfBruteForce(SpacingGoal goal, int curves)
    {
        Random random = new(20260501);
        int infeasible = 0, inflected = 0;
        for (int c = 0; c < curves; c++)
        {
            bool inflection = random.Next(2) == 0;
            inflected += inflection ? 1 : 0;
            BlankShape blank = RandomBlank.Make(random, 1400, inflection);
            double held = 700 + random.Next(500) + random.NextDouble();
            int guides = random.Next(0, 7);
            double slope = (random.NextDouble() - 0.3) * 0.03;
            double heldHeight = random.Next(2) == 0 ? 6 + (25 * random.NextDouble()) : double.NaN;
            RunningSpan span = new(
                held, random.Next(2) * 1.7, (GuideSide)random.Next(2), s => s >= held && !double.IsNaN(heldHeight) ? heldHeight : 6 + (slope * s) + (s > 500 ? 5 : 0));
            double zone = random.Next(200, 600);
            SpacingOptions options = new()
            {
                GridMm = held / random.Next(10, 19),
                LeastSpacingMm = random.Next(2) == 0 ? 40 : 90,
                NotGrowingTowardTip = random.Next(2) == 0,
                Forbidden = random.Next(2) == 0 ? [new(zone, zone + 80)] : [],
                Goal = goal,
            };
            double expected = BruteForce(blank, span, guides, options);
            bool found = SpacingRule.TryBest(blank, span, guides, options, out SpacingPlan? plan);
            Assert.Equal(double.IsFinite(expected), found);
            infeasible += found ? 0 : 1;
            if (plan is null)
                continue;
            Assert.Equal(guides, plan.StationsMm.Count);
            Assert.True(Math.Abs(plan.LargestMm - expected) < 2e-3, $"curve {c}: {plan.LargestMm} is not {expected}");
            Assert.Equal(plan.LargestMm, Largest(blank, span, [held, .. plan.StationsMm, span.TipMm], options.Goal, []), 2e-3);
            Assert.True(Fits([held, .. plan.StationsMm, span.TipMm], options));
        }

        Assert.InRange(infeasible, 1, curves / 2);
        Assert.InRange(inflected, curves / 4, curves);
    }

    private static double BruteForce(BlankShape blank, RunningSpan span, int guides, SpacingOptions options)
    {
        List<double> grid = [];
        for (int k = 1; k * options.GridMm < span.HeldMm; k++)
        {
            if (k * options.GridMm > span.TipMm)
                grid.Add(k * options.GridMm);
        }

        grid.Reverse();
        double best = double.PositiveInfinity;
        Dictionary<(double, double), double> measured = [];
        double[] layout = new double[guides + 2];
        layout[0] = span.HeldMm;
        layout[^1] = span.TipMm;
        Try(1, 0);
        return best;

        void Try(int index, int from)
        {
            if (index > guides)
            {
                if (Fits(layout, options))
                    best = Math.Min(best, Largest(blank, span, layout, options.Goal, measured));
                return;
            }

            for (int g = from; g < grid.Count; g++)
            {
                layout[index] = grid[g];
                Try(index + 1, g + 1);
            }
        }
    }

    private static bool Fits(double[] layout, SpacingOptions options)
    {
        for (int i = 1; i < layout.Length; i++)
        {
            double spacing = layout[i - 1] - layout[i];
            if (spacing < options.LeastSpacingMm - 1e-9)
                return false;
            if (options.NotGrowingTowardTip && i > 1 && spacing > layout[i - 2] - layout[i - 1] + 1e-9)
                return false;
            if (i < layout.Length - 1 && options.Forbidden.Any(z => layout[i] >= z.FromMm && layout[i] <= z.ToMm))
                return false;
        }

        return true;
    }

    private static double Largest(
        BlankShape blank, RunningSpan span, double[] layout, SpacingGoal goal, Dictionary<(double, double), double> measured)
    {
        double largest = double.NegativeInfinity;
        for (int i = 1; i < layout.Length; i++)
        {
            (double a, double b) = (layout[i - 1], layout[i]);
            if (!measured.TryGetValue((a, b), out double value))
            {
                Interval interval = IntervalRule.Measure(blank, Ring(a), Ring(b), span.Side);
                measured[(a, b)] = value = goal == SpacingGoal.Bow ? interval.BowMm : interval.GapMm;
            }

            largest = Math.Max(largest, value);
        }

        return largest;
        RingPoint Ring(double s) => RingPoint.At(blank, s, span.DistanceMm(s), span.Side);
    }
}

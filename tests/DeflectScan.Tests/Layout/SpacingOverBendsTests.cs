using DeflectScan.Layout;
using DeflectScan.Layout.Spacing;
using DeflectScan.Scenes.Rods;

namespace DeflectScan.Tests.Layout;

/// <summary>The layout best over several bends against every layout on a coarse grid, intervals measured by the rule that judges layouts.</summary>
public class SpacingOverBendsTests
{
    private const double HeldMm = 900;

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void TheOptimumOverThreeBendsIsThatOfBruteForce(int guides)
    {
        Random random = new(20260601 + guides);
        SpacingOptions options = new() { GridMm = 50, LeastSpacingMm = 40, NotGrowingTowardTip = guides != 2 };
        for (int c = 0; c < 12; c++)
        {
            BlankShape[] bends = [.. Enumerable.Range(0, 3).Select(_ => RandomBlank.Make(random, 1400, inflection: false))];
            Assert.True(SpacingOverBends.TryBest(bends, HeldMm, 0, guides, options, out RangePlan? plan));
            double[][] layouts = [.. Layouts(guides, options)];
            double[] least = [.. bends.Select(b => layouts.Min(l => LargestBow(b, l)))];
            double expected = layouts.Min(l => bends.Select((b, k) => LargestBow(b, l) / least[k]).Max());
            for (int k = 0; k < 3; k++)
                Assert.Equal(least[k], plan.LeastBowsMm[k], 1e-3 * least[k]);
            Assert.Equal(expected, plan.WorstRatio, 1e-3 * expected);
            double[] chosen = [0, .. plan.StationsMm.Reverse(), HeldMm];
            Assert.Equal(expected, bends.Select((b, k) => LargestBow(b, chosen) / least[k]).Max(), 1e-3 * expected);
        }
    }

    [Fact]
    public void OverOneBendItIsThatBendsOwnBest()
    {
        BlankShape bend = RandomBlank.Make(new Random(7), 1400, inflection: false);
        Assert.True(SpacingOverBends.TryBest([bend], HeldMm, 0, 4, new SpacingOptions(), out RangePlan? plan));
        Assert.True(SpacingRule.TryBest(bend, RunningSpan.ForBow(HeldMm, 0), 4, new SpacingOptions(), out SpacingPlan? own));
        Assert.Equal(1, plan.WorstRatio, 1e-9);
        Assert.Equal(own.LargestMm, plan.LeastBowsMm[0], 1e-9);
    }

    // Ascending stations from the tip-top to the held guide.
    private static IEnumerable<double[]> Layouts(int guides, SpacingOptions options)
    {
        double[] grid = [.. Enumerable.Range(1, (int)(HeldMm / options.GridMm) - 1).Select(i => i * options.GridMm)];
        return Choose(0, guides).Select(c => (double[])[0, .. c, HeldMm]).Where(Fits);

        IEnumerable<double[]> Choose(int from, int count) => count == 0
            ? [[]]
            : Enumerable.Range(from, Math.Max(0, grid.Length - from)).SelectMany(i => Choose(i + 1, count - 1).Select(rest => (double[])[grid[i], .. rest]));

        bool Fits(double[] l) => !options.NotGrowingTowardTip || Enumerable.Range(2, l.Length - 2).All(i => l[i] - l[i - 1] >= l[i - 1] - l[i - 2] - 1e-9);
    }

    private static double LargestBow(BlankShape bend, double[] layout) =>
        layout.Zip(layout.Skip(1), (a, b) => IntervalRule.Measure(bend, RingPoint.At(bend, b, 0, GuideSide.Inside), RingPoint.At(bend, a, 0, GuideSide.Inside), GuideSide.Inside).BowMm).Max();
}

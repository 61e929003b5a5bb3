using DeflectScan.Layout;
using DeflectScan.Layout.Suggesting;

namespace DeflectScan.Tests.Layout;

/// <summary>The one rule for reduction guides, running pairs and the pair that follows worst (how many: common practice, no source).</summary>
public class RunningPairsTests
{
    [Theory]
    [InlineData(GuideSide.Inside, 9, null, 3)]
    [InlineData(GuideSide.Inside, 3, null, 2)]
    [InlineData(GuideSide.Outside, 9, null, 1)]
    [InlineData(GuideSide.Inside, 9, 4, 4)]
    [InlineData(GuideSide.Inside, 9, 0, 1)]
    [InlineData(GuideSide.Outside, 5, 30, 4)]
    public void ReductionGuidesFollowOneRule(GuideSide side, int rings, int? told, int reduction) => Assert.Equal(reduction, RunningPairs.Reduction(side, rings, told));

    /// <summary>Inside the first pairs do not count, however large their bow; outside every pair from the first guide on does, by its clearance.</summary>
    [Fact]
    public void TheWorstRunningPairIsByBowInsideAndByClearanceOutside()
    {
        (double Bow, double Clearance)[] pairs = [(30, 20), (9, 0.1), (4, 5), (18, 3), (6, 0.2)];
        Assert.Equal(3, RunningPairs.Worst(pairs, GuideSide.Inside, 3, p => p.Bow, p => p.Clearance));
        Assert.Equal(1, RunningPairs.Worst(pairs, GuideSide.Outside, 1, p => p.Bow, p => p.Clearance));
        Assert.Equal(4, RunningPairs.Worst(pairs, GuideSide.Outside, 3, p => p.Bow, p => p.Clearance));
    }

    /// <summary>Six guides for 1 mm are no advice; a gain within the uncertainty is none; a good one is.</summary>
    [Theory]
    [InlineData(4.5, 3.5, 6, 0, false)]
    [InlineData(4.5, 3.5, 3, 0, true)]
    [InlineData(19.4, 8.8, 5, 0, true)]
    [InlineData(6, 4.5, 1, 2, false)]
    [InlineData(6, 5.5, 1, 0, false)]
    public void AChangeMustBeWorthItsWork(double from, double to, int guides, double uncertainty, bool isWorth) =>
        Assert.Equal(isWorth, new SuggestionOptions { GainUncertaintyMm = uncertainty }.IsWorth(from, to, guides));
}

using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Layout.Edits;
using DeflectScan.Layout.Suggesting;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Layout;

public class WhatIfTests
{
    private static readonly BlankShape Blank = TruthShape.Blank(Repository.Truth("clean-spinning"));
    private static readonly IReadOnlyList<RingPoint> Rings = TruthShape.Rings(Repository.Truth("clean-spinning"), Blank);

    [Fact]
    public void MovingAGuideThereAndBackChangesNothing()
    {
        WhatIfResult there = Apply(new MoveGuide(4, 390));
        Assert.Equal(390, there.After.Rings[4].StationMm);
        Assert.Equal(Rings[4].HeightMm, there.After.Rings[4].HeightMm, 1e-9);
        Assert.NotEqual(there.Before.Intervals[4], there.After.Intervals[4]);
        Assert.Equal(there.Before.Intervals[2], there.After.Intervals[2]);
        WhatIfResult stays = Apply(new MoveGuide(4, Rings[4].StationMm));
        for (int i = 0; i < stays.Before.Intervals.Count; i++)
        {
            Assert.Equal(stays.Before.Intervals[i].GapMm, stays.After.Intervals[i].GapMm, 1e-6);
            Assert.Equal(stays.Before.Intervals[i].BowMm, stays.After.Intervals[i].BowMm, 1e-6);
        }
    }

    [Fact]
    public void AGuideRemovedAndAddedAgainIsTheLayoutAsMeasured()
    {
        WhatIfResult result = Apply(new RemoveGuide(5), new AddGuide(Rings[5].StationMm, Rings[5].DistanceMm));
        Assert.Equal(Rings.Count, result.Rings.Count);
        Assert.Null(result.Rings[5].Measured);
        for (int i = 0; i < result.Before.Intervals.Count; i++)
            Assert.Equal(result.Before.Intervals[i].GapMm, result.After.Intervals[i].GapMm, 1e-6);
    }

    [Fact]
    public void AnAddedGuideTakesTheHeightOfTheOneBesideIt()
    {
        double above = (Rings[3].StationMm + Rings[2].StationMm) / 2;
        Assert.Equal(Rings[3].DistanceMm, Apply(new AddGuide(above)).After.Rings[3].DistanceMm, 1e-9);
        Assert.Equal(Rings[6].DistanceMm, Apply(new AddGuide(60)).After.Rings[^2].DistanceMm, 1e-9);
        Assert.True(Apply(new AddGuide(60)).After.Intervals.Count == Rings.Count);
    }

    [Fact]
    public void AGuideMovedPastItsNeighbourChangesPlacesWithIt()
    {
        WhatIfResult result = Apply(new MoveGuide(4, Rings[5].StationMm - 30));
        Assert.Equal([0, 1, 2, 3, 5, 4, 6, 7], result.Rings.Select(r => r.Measured!.Value));
    }

    [Theory]
    [InlineData(7, "tip-top")]
    [InlineData(9, "no guide 10")]
    public void WhatCannotBeDoneIsSaidInOneSentence(int ring, string says)
    {
        string problem = WhatIf.Place(Blank, Rings, GuideSide.Inside, [new RemoveGuide(ring)]).Findings[0].Message;
        Assert.Contains(says, problem, StringComparison.Ordinal);
        Assert.True(WhatIf.Place(Blank, Rings, GuideSide.Inside, [new AddGuide(99999)]).IsRefused);
        Assert.True(WhatIf.Place(Blank, Rings, GuideSide.Inside, [new AddGuide(Rings[3].StationMm + 1)]).IsRefused);
        Assert.True(WhatIf.Place(Blank, Rings, GuideSide.Inside, [new MoveGuide(2, 500), new RemoveGuide(2)]).IsRefused);
    }

    /// <summary>The bar is 1 ms for twelve guides, on a processor of its own once the code is compiled for speed.</summary>
    [Fact]
    public void TwelveGuidesTakeLessThanAMillisecond()
    {
        RingPoint[] twelve = [.. Enumerable.Range(0, 12).Select(i => RingPoint.At(Blank, 1200 - (100 * i), 12, GuideSide.Inside)), Rings[^1]];
        double mean = ThreadClock.Mean(bar: 1, runs: 200, rounds: 50, () => LayoutRule.Evaluate(Blank, twelve, GuideSide.Inside));
        Assert.True(mean <= 1, $"{mean:F2} ms");
    }

    private static WhatIfResult Apply(params LayoutEdit[] edits)
    {
        IReadOnlyList<SuggestedRing> layout = InputException.Unless(WhatIf.Place(Blank, Rings, GuideSide.Inside, edits));
        return new WhatIfResult(LayoutRule.Evaluate(Blank, Rings, GuideSide.Inside), LayoutRule.Evaluate(Blank, [.. layout.Select(r => r.Point)], GuideSide.Inside), layout);
    }

    private sealed record WhatIfResult(LayoutResult Before, LayoutResult After, IReadOnlyList<SuggestedRing> Rings);
}

using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Layout.Spacing;
using DeflectScan.Layout.Suggesting;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rods;

namespace DeflectScan.Tests.Layout;

public class SuggestionTests
{
    private static readonly BlankShape Blank = TruthShape.Blank(Repository.Truth("clean-spinning"));

    [Fact]
    public void TooFewRunningGuidesGetOneMore()
    {
        SuggestionResult s = For(1223, 1000, 845, 540, 250);
        Assert.Equal(SuggestionKind.Add, s.Kind);
        Assert.NotNull(s.AddAtMm);
        Assert.Equal(7, s.Rings.Count);
        Assert.True(s.BowAfterMm < 0.6 * s.BowBeforeMm);
        Assert.True(s.GapAfterMm < s.GapBeforeMm);
        Assert.Contains("one more guide", s.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void UnevenRunningGuidesAreShiftedOnly()
    {
        SuggestionResult s = For(1223, 1000, 845, 720, 480, 380, 210, 100);
        Assert.Equal(SuggestionKind.Level, s.Kind);
        Assert.Null(s.AddAtMm);
        Assert.NotEmpty(s.Moves);
        Assert.True(s.BowAfterMm < 0.8 * s.BowBeforeMm);
    }

    [Fact]
    public void ALevelLayoutIsLeftAlone()
    {
        Assert.True(SpacingRule.TryBest(Blank, RunningSpan.ForBow(845, 0), 5, new(), out SpacingPlan? plan));
        SuggestionResult s = For([1223, 1000, 845, .. plan.StationsMm.Select((v, i) => v + (i % 2 == 0 ? 3 : -3))]);
        Assert.Equal(SuggestionKind.None, s.Kind);
        Assert.Null(s.AddAtMm);
        Assert.Empty(s.Moves);
        Assert.Equal(s.Before, s.After);
        Assert.NotEmpty(s.Why);
    }

    /// <summary>A guide that stands where the optimum is, but for the rounding of stations, is not among those to be shifted.</summary>
    [Fact]
    public void AShiftThatNoHandCanMakeIsNotNamed()
    {
        Assert.True(SpacingRule.TryBest(Blank, RunningSpan.ForBow(845, 0), 5, new(), out SpacingPlan? plan));
        double[] best = [.. plan.StationsMm];
        SuggestionResult s = For([1223, 1000, 845, best[0] + 60, best[1] + 60, best[2], best[3], best[4] + 0.3]);
        Assert.Equal(SuggestionKind.Level, s.Kind);
        Assert.Contains("with guides 4 and 5 shifted", s.Why, StringComparison.Ordinal);
        Assert.Equal([3, 4], s.Moves.Where(m => m.CanBeMade).Select(m => m.Ring));
    }

    /// <summary>Where the line lies on the blank nothing is said to be "within 0.0 mm" of it.</summary>
    [Fact]
    public void ALineOnTheBlankIsSaidToLieThere()
    {
        BlankShape circle = KnownBendTests.Circle;
        SuggestionResult s = Suggestion.For(circle, [.. new[] { 1000.0, 500, 400, 300, 100 }.Select(m => RingPoint.At(circle, m, 6, GuideSide.Outside))], GuideSide.Outside, 1, new());
        Assert.True(s.Before.Intervals.Min(i => i.ClearanceMm) < 0);
        Assert.Contains("The line lies on the blank", s.Why, StringComparison.Ordinal);
        Assert.DoesNotContain("within 0.0", s.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void ManyGuidesAreLeftAloneThoughOneMoreWouldBowLess()
    {
        SuggestionResult s = For(1223, 1000, 845, 710, 590, 490, 400, 320, 240, 165, 95, 43);
        Assert.Equal(SuggestionKind.None, s.Kind);
    }

    /// <summary>Whatever is suggested: the axis stays, held guides and the tip-top stay, the figures are the rule's own, and nothing gets worse.</summary>
    [Fact]
    public void EverySuggestionKeepsItsPromises()
    {
        Random random = new(7);
        HashSet<SuggestionKind> seen = [];
        for (int c = 0; c < 60; c++)
        {
            BlankShape blank = RandomBlank.Make(random, 1500, inflection: false);
            GuideSide side = (GuideSide)random.Next(2);
            double[] stations = [.. Enumerable.Range(0, random.Next(2, 9)).Select(_ => 60 + (1200 * random.NextDouble())).OrderDescending()];
            RingPoint[] rings = [.. stations.Append(0).Select(s => RingPoint.At(blank, s, 6 + (s / 50), side))];
            int held = SuggestionOptions.DefaultHeld(side);
            SuggestionResult result = Suggestion.For(blank, rings, side, held, new());
            seen.Add(result.Kind);
            int kept = Math.Min(held, rings.Length - 1);
            Assert.Equal(rings.Take(kept), result.Rings.Take(kept).Select(r => r.Point));
            Assert.Equal(rings[^1], result.Rings[^1].Point);
            Assert.Equal(rings.Length + (result.Kind == SuggestionKind.Add ? 1 : 0), result.Rings.Count);
            Assert.Equal(Enumerable.Range(0, rings.Length), result.Rings.Where(r => r.Measured is not null).Select(r => r.Measured!.Value));
            Assert.All(result.Moves, m => Assert.True(m.ToMm == Math.Round(m.ToMm) && m.ToMm != m.FromMm));
            LayoutResult check = LayoutRule.Evaluate(blank, [.. result.Rings.Select(r => r.Point)], side);
            Assert.Equal(check.Intervals, result.After.Intervals);
            Assert.Equal(check.Intervals.Skip(kept - 1).Max(i => i.BowMm), result.BowAfterMm);
            Assert.True(result.BowAfterMm <= result.BowBeforeMm + 1e-9 || side == GuideSide.Outside);
            if (result.Kind == SuggestionKind.None)
                Assert.Equal(result.BowBeforeMm, result.BowAfterMm);
        }

        Assert.Equal(3, seen.Count);
    }

    private static SuggestionResult For(params double[] stations)
    {
        RingPoint[] rings = [.. stations.Select((s, i) => RingPoint.At(Blank, s, i switch { 0 => 37, 1 => 21, 2 => 14, _ => 10.5 }, GuideSide.Inside))];
        RingPoint tip = RingPoint.At(Blank, 0, 6, GuideSide.Inside);
        return Suggestion.For(Blank, [.. rings, tip], GuideSide.Inside, 3, new());
    }
}

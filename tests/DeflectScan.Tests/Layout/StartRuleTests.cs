using DeflectScan.Findings;
using DeflectScan.Layout;
using DeflectScan.Layout.Spacing;
using DeflectScan.Layout.Start;
using DeflectScan.Scenes.Rods;

namespace DeflectScan.Tests.Layout;

/// <summary>Facts of the trade here are common practice, no source.</summary>
public class StartRuleTests
{
    private const double Inch = 25.4;

    /// <summary>Class 2000, light line, 6 ft 6 in: rings 25, 12, 8 at about 21 in, then 8 to 9, then 6 to 8 in (common practice, no source).</summary>
    [Fact]
    public void TheUsualSmallSpinningRodIsPlannedAsUsual()
    {
        StartLayout layout = Plan(new() { RodLengthMm = 78 * Inch, ReelFrontFromButtMm = 300 });
        StartGuide[] reduction = [.. layout.Guides.Where(g => g.Role == GuideRole.Reduction)];
        Assert.Equal([25, 12, 8], reduction.Select(g => g.RingSize));
        Assert.InRange(reduction[0].FromReelMm / Inch, 20.5, 21.5);
        Assert.InRange((reduction[1].FromReelMm - reduction[0].FromReelMm) / Inch, 8, 9);
        Assert.InRange((reduction[2].FromReelMm - reduction[1].FromReelMm) / Inch, 6, 8);
        Assert.All(layout.Guides, g => Assert.True(GuidePractice.BoreMm(g.RingSize) >= layout.LeastBore.Value));
        Assert.Equal(GuideRole.TipTop, layout.Guides[^1].Role);
        Assert.Equal(0, layout.Guides[^1].FromTipMm);
        Assert.All(layout.Guides, g => Assert.Equal((78 * Inch) - 300, g.FromReelMm + g.FromTipMm, 0.5));
    }

    [Fact]
    public void ALongerRodKeepsTheReductionPartAndGetsMoreRunningGuides()
    {
        StartLayout shorter = Plan(new() { RodLengthMm = 78 * Inch, ReelFrontFromButtMm = 300 });
        StartLayout longer = Plan(new() { RodLengthMm = 108 * Inch, ReelFrontFromButtMm = 300 });
        Assert.Equal(Reduction(shorter), Reduction(longer));
        Assert.True(longer.Guides.Count > shorter.Guides.Count);
        static (double, double)[] Reduction(StartLayout l) =>
            [.. l.Guides.Where(g => g.Role == GuideRole.Reduction).Select(g => (g.FromReelMm, g.RingSize))];
    }

    [Fact]
    public void RunningGuidesStartEquallySpaced()
    {
        StartLayout layout = Plan(new() { RodLengthMm = 2100, ReelFrontFromButtMm = 320, ReelClass = 3000 });
        double[] stations = [.. layout.Guides.SkipWhile(g => g.Role == GuideRole.Reduction).Select(g => g.FromReelMm)];
        double[] spacing = [.. stations.Zip(stations.Skip(1), (a, b) => b - a)];
        Assert.All(spacing, s => Assert.Equal(spacing[0], s, 1.0));
    }

    [Fact]
    public void TheConeRunsFromTheSpoolsLipToTheLastReductionRing()
    {
        StartLayout layout = Plan(new() { RodLengthMm = 2100, ReelFrontFromButtMm = 320, SpoolLipMm = 46, SpoolAxisHeightMm = 65 });
        StartGuide[] reduction = [.. layout.Guides.Where(g => g.Role == GuideRole.Reduction)];
        double bore = GuidePractice.BoreMm(reduction[2].RingSize);
        Assert.Equal(bore, reduction[2].ConeMm!.Value, 1e-9);
        foreach (StartGuide g in reduction)
        {
            double t = g.FromReelMm / reduction[2].FromReelMm;
            Assert.Equal(46 + (t * (bore - 46)), g.ConeMm!.Value, 1e-9);
        }

        // A cone of the same shape: a wider lip puts the first guide out in proportion.
        Assert.Equal(Grounds.Geometry, reduction[0].StationBasis.Basis);
        Assert.Equal(533 * 46 / 42.0, reduction[0].FromReelMm, 0.5);
        Assert.True(reduction[0].ConeHeightMm > reduction[1].ConeHeightMm && reduction[1].ConeHeightMm > reduction[2].ConeHeightMm);
    }

    [Fact]
    public void AThickLeaderNeedsLargerRings()
    {
        StartLayout light = Plan(new() { RodLengthMm = 2100, ReelFrontFromButtMm = 320, LeaderStrengthKg = 4 });
        StartLayout heavy = Plan(new() { RodLengthMm = 2100, ReelFrontFromButtMm = 320, LeaderStrengthKg = 25 });
        Assert.True(heavy.LeastBore.Value > light.LeastBore.Value);
        Assert.True(heavy.Guides[^1].RingSize > light.Guides[^1].RingSize);
        Assert.All(heavy.Guides, g => Assert.True(GuidePractice.BoreMm(g.RingSize) >= heavy.LeastBore.Value));
    }

    [Fact]
    public void WhatCannotBePlannedIsSaidInOneSentence()
    {
        string problem = StartRule.Plan(new() { RodLengthMm = 1100, ReelFrontFromButtMm = 300, ReelClass = 5000 }).Findings[0].Message;
        Assert.Contains("too short", problem, StringComparison.Ordinal);
        Assert.True(StartRule.Plan(new() { RodLengthMm = 400, ReelFrontFromButtMm = 300 }).IsRefused);
        Assert.True(StartRule.Plan(new() { RodLengthMm = 2000, ReelFrontFromButtMm = 300, LineStrengthKg = 0 }).IsRefused);
    }

    /// <summary>As the help says; casting reels have sizes of their own (common practice, no source).</summary>
    [Theory]
    [InlineData(RodKind.Spinning, 700, false)]
    [InlineData(RodKind.Spinning, 1000, true)]
    [InlineData(RodKind.Spinning, 5000, true)]
    [InlineData(RodKind.Spinning, 8000, false)]
    [InlineData(RodKind.Casting, 200, true)]
    [InlineData(RodKind.Casting, 400, true)]
    [InlineData(RodKind.Casting, 2000, false)]
    public void ReelsOutsideWhatIsKnownAreRefused(RodKind kind, int reel, bool isPlanned)
    {
        Assert.Equal(isPlanned, !StartRule.Plan(new() { RodLengthMm = 2400, ReelFrontFromButtMm = 320, Kind = kind, ReelClass = reel }).IsRefused);
    }

    [Fact]
    public void StationsAreWholeMillimetresAndAThickLineNeedsLargerRings()
    {
        StartLayout light = Plan(new() { RodLengthMm = 1981.2, ReelFrontFromButtMm = 304.8 });
        Assert.All(light.Guides, g => Assert.Equal(Math.Round(g.FromReelMm), g.FromReelMm));
        Assert.All(light.Guides, g => Assert.Equal(Math.Round(g.FromTipMm), g.FromTipMm));
        StartLayout heavy = Plan(new() { RodLengthMm = 1981.2, ReelFrontFromButtMm = 304.8, LineStrengthKg = 136 });
        Assert.True(heavy.LeastBore.Value > light.LeastBore.Value);
        Assert.True(heavy.Guides[^1].RingSize > light.Guides[^1].RingSize);
        Assert.True(StartRule.Plan(new() { RodLengthMm = 2400, ReelFrontFromButtMm = 320, LineStrengthKg = 9000 }).IsRefused);
    }

    /// <summary>By equal bow on a typical bend the spacing narrows towards the tip, where a tapered blank bends most, and the bows come out level.</summary>
    [Fact]
    public void RunningGuidesMayStartByEqualBowOnATypicalBend()
    {
        StartInput input = new() { RodLengthMm = 2100, ReelFrontFromButtMm = 320, RunningByBow = true };
        StartLayout layout = Plan(input);
        StartLayout even = Plan(input with { RunningByBow = false });
        Assert.Equal(even.Guides.Count, layout.Guides.Count);
        double[] Bows(StartLayout l)
        {
            BlankShape bend = TypicalBend.Of(1780);
            RingPoint[] rings = [.. l.Guides.SkipWhile(g => g.Role == GuideRole.Reduction).Prepend(l.Guides[2]).Select(g => RingPoint.At(bend, g.FromTipMm, 8, GuideSide.Inside))];
            return [.. LayoutRule.Evaluate(bend, rings, GuideSide.Inside).Intervals.Select(i => i.BowMm)];
        }

        Assert.True(Bows(layout).Max() < 0.8 * Bows(even).Max());
        Assert.All(layout.Guides.Where(g => g.Role == GuideRole.Running), g => Assert.Equal(Grounds.Geometry, g.StationBasis.Basis));
        Assert.Equal(75, TypicalBend.Of(1780).TurnDeg, 0.1);
    }

    [Fact]
    public void EveryValueSaysWhatItRestsOn()
    {
        foreach (RodKind kind in Enum.GetValues<RodKind>())
        {
            StartLayout layout = Plan(new() { RodLengthMm = 2100, ReelFrontFromButtMm = 320, Kind = kind });
            Assert.All(layout.Guides, g => Assert.False(string.IsNullOrWhiteSpace(g.StationBasis.Why) || string.IsNullOrWhiteSpace(g.RingBasis.Why)));
            Assert.All(layout.Guides.Zip(layout.Guides.Skip(1)), p => Assert.True(p.First.FromReelMm < p.Second.FromReelMm));
            Assert.All(layout.Guides.Zip(layout.Guides.Skip(1)), p => Assert.True(p.First.RingSize >= p.Second.RingSize));
        }
    }

    [Fact]
    public void TestCastsCloseInOnTheFirstGuidesPlace()
    {
        List<CastObservation> casts = [CastObservation.CoilsBunchHeard];
        TestCastMove out1 = TestCast.Next(casts);
        Assert.Equal(1, out1.Guide);
        Assert.True(out1.TowardTipMm > 0);
        casts.Add(CastObservation.LineSlapsBlank);
        TestCastMove back = TestCast.Next(casts);
        Assert.Equal(-out1.TowardTipMm / 2, back.TowardTipMm, 1e-9);
        for (int i = 0; i < 6; i++)
            casts.Add(i % 2 == 0 ? CastObservation.CoilsBunchSeen : CastObservation.LineSlapsBlank);
        Assert.Null(TestCast.Next(casts).Guide);
        casts.Add(CastObservation.RunsWell);
        Assert.Null(TestCast.Next(casts).Guide);
        Assert.Equal(2, TestCast.Next([CastObservation.WavyAfterFirst]).Guide);
    }

    [Fact]
    public void ALayoutIsCarriedOverByBowWhereTheBendIsKnownElseInProportion()
    {
        double[] fromReel = [533, 749, 927, 1100, 1260, 1400, 1520, 1640, 1750];
        CarriedLayout? plain = CarryOver.To(fromReel, 3, 2000, null, new());
        Assert.NotNull(plain);
        Assert.Equal(CarryMethod.Proportion, plain.Method);
        Assert.Equal(fromReel.Take(3), plain.FromReelMm.Take(3));
        Assert.Equal(2000, plain.FromReelMm[^1], 1e-9);
        Assert.Equal((1100.0 - 927) / (1750 - 927), (plain.FromReelMm[3] - 927) / (2000 - 927), 1e-12);

        BlankShape bend = RandomBlank.Make(new Random(2), 1500, inflection: false);
        CarriedLayout? bowed = CarryOver.To(fromReel, 3, 2000, bend, new());
        Assert.NotNull(bowed);
        Assert.Equal(CarryMethod.EqualBow, bowed.Method);
        Assert.Equal(fromReel.Take(3), bowed.FromReelMm.Take(3));
        Assert.True(SpacingRule.TryBest(bend, RunningSpan.ForBow(2000 - 927, 0), 5, new(), out SpacingPlan? plan));
        Assert.Equal(plan.StationsMm.Select(s => 2000 - s), bowed.FromReelMm.Skip(3).SkipLast(1));
        Assert.Null(CarryOver.To(fromReel, 3, 1000, null, new()));
    }

    private static StartLayout Plan(StartInput input) => InputException.Unless(StartRule.Plan(input));
}

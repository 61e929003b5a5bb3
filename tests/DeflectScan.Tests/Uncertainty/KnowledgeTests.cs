using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Measuring.Figures;

namespace DeflectScan.Tests.Uncertainty;

/// <summary>What a person taped enters the adjustment; what contradicts the photo is reported and moves nothing.</summary>
public class KnowledgeTests
{
    private static readonly Lazy<TrueTrace> One = new(() => new TrueTrace("one-card", new CalibrationOptions { AssumedOffPlaneMm = 10, AssumedBendMm = 1 }));

    [Fact]
    public void ATapedDistanceMakesFiguresSurerAndNoLessTrue()
    {
        TrueTrace chain = One.Value;
        FindingLedger ledger = new();
        LayoutUncertainty taped = TapeCheck.Use(chain.Uncertainty, [new TapedDistance(1, 5, chain.Between(1, 5), 0.5)], ledger);
        Assert.Empty(ledger.Findings);
        for (int i = 0; i < taped.Rings; i++)
            Assert.True(taped.StationMm[i] <= chain.Uncertainty.StationMm[i] + 1e-9);
        Assert.True(taped.StationMm[0] < 0.6 * chain.Uncertainty.StationMm[0], $"{taped.StationMm[0]} {chain.Uncertainty.StationMm[0]}");
        Assert.Equal(chain.Between(1, 5), taped.Figures.Values[0] - taped.Figures.Values[4], 0.3);
        Assert.InRange(Math.Abs(taped.Figures.Values[0] - chain.Truth.Guides[0].FromTipMm), 0, taped.StationMm[0]);
    }

    /// <summary>Plane and rings themselves move: what is worked out from them again is what the linear adjustment says, and the blank's px stay.</summary>
    [Fact]
    public void AxisAndRingsAgreeWithTheTape()
    {
        TrueTrace chain = One.Value;
        SettledTrace seen = new(chain.Solution, chain.Trace, chain.Line, chain.Figures, chain.Uncertainty);
        TapedDistance[] taped = [new TapedDistance(1, 5, chain.Between(1, 5) + 3, 0.5), new TapedDistance(3, null, chain.Between(3, chain.Truth.Guides.Count) + 2, 0.5)];
        FindingLedger ledger = new();
        LayoutUncertainty linear = TapeCheck.Use(chain.Uncertainty, taped, ledger);
        Assert.Empty(ledger.Findings);
        SettledTrace settled = seen.Told((u, to) => TapeCheck.Use(u, taped, to), ledger);
        Assert.Empty(ledger.Findings);
        Assert.Equal(linear.Figures.Values.Count, settled.Uncertainty.Figures.Values.Count);
        for (int i = 0; i < linear.Figures.Values.Count; i++)
            Assert.Equal(linear.Figures.Values[i], settled.Uncertainty.Figures.Values[i], Math.Max(0.02, 0.2 * LayoutUncertainty.Coverage * linear.Figures.Sd(i)));
        double[] linearAndSettled = [.. new[] { linear.Figures, settled.Uncertainty.Figures }.Select(f => f.Values[0] - f.Values[4])];
        Assert.Equal(linearAndSettled[0], linearAndSettled[1], 0.05);
        Assert.Equal(linear.Figures.Values[2], settled.Figures.Layout.Rings[2].StationMm, 0.05);
        Assert.All(linear.StationMm.Zip(settled.Uncertainty.StationMm), p => Assert.Equal(p.First, p.Second, 1e-9));
        for (double s = 50; s < 1500; s += 100)
        {
            double share = s / chain.Trace.Axis.Curve.Length;
            Vec2 px = settled.Solved.Plane.ToPhoto(settled.Trace.Axis.Curve.Point(share * settled.Trace.Axis.Curve.Length));
            (_, double off) = chain.Trace.Axis.Curve.Nearest(chain.Solution.Plane.ToPlane(px));
            Assert.InRange(off, -0.02, 0.02);
        }

        // The plane's own displacements carry the surer scale: the length's part of them is what the figures have.
        double length = settled.Figures.Shape.LengthMm;
        double variance = settled.Solved.Plane.Variants.Sum(v => Math.Pow(settled.Trace.CarriedTo(v, settled.Solved.Plane).Axis.Curve.Length - length, 2));
        Assert.InRange(Math.Sqrt(variance), 0, 1.1 * linear.LengthMm / LayoutUncertainty.Coverage); // not quite linear
        Assert.True(Math.Sqrt(variance) < 0.8 * chain.Uncertainty.LengthMm / LayoutUncertainty.Coverage, $"{Math.Sqrt(variance)} {chain.Uncertainty.LengthMm}");
    }

    [Fact]
    public void AContradictionIsReportedAndNotAveragedIn()
    {
        TrueTrace chain = One.Value;
        FindingLedger ledger = new();
        LayoutUncertainty taped = TapeCheck.Use(chain.Uncertainty, [new TapedDistance(2, null, chain.Between(2, chain.Truth.Guides.Count) + 40, 1)], ledger);
        Finding finding = Assert.Single(ledger.Findings);
        Assert.Equal((FindingCode.CardOffPlane, Severity.Review), (finding.Code, finding.Severity));
        Assert.Contains("guide 2 and the tip-top", finding.Message, StringComparison.Ordinal);
        Assert.Equal(chain.Uncertainty.Figures.Values, taped.Figures.Values);
    }

    [Fact]
    public void ATapeToAGuideThatIsNotThereIsReported()
    {
        FindingLedger ledger = new();
        TapeCheck.Use(One.Value.Uncertainty, [new TapedDistance(2, 25, 600, 1)], ledger);
        Assert.Equal(FindingCode.GuidesUncertain, Assert.Single(ledger.Findings).Code);
    }

    /// <summary>A tape 0.6 % wrong beside one card: nothing contradicts it, so it must be said that it sets the scale, and by how much. Two cards say it themselves.</summary>
    [Fact]
    public void WithOneCardATapeThatMovesTheScaleIsSaid()
    {
        CalibrationOptions asMeasured = new() { AssumedOffPlaneMm = 2, AssumedBendMm = 0.5, LoneCardHeightSdMm = 4, LoneCardLeanSdDeg = 0.5 };
        TrueTrace one = new("one-card", asMeasured);
        double wrong = 1.006 * one.Between(1, one.Truth.Guides.Count);
        Finding note = Assert.Single(Notes(one, wrong));
        Assert.Equal(Severity.Note, note.Severity);
        Assert.Contains("longer", note.Message, StringComparison.Ordinal);
        Assert.Contains("second card", note.Message, StringComparison.Ordinal);
        double said = double.Parse(System.Text.RegularExpressions.Regex.Match(note.Message, "([0-9.]+) %").Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture);
        Assert.InRange(said, 0.2, 1.2);
        TrueTrace two = new("clean-spinning");
        Assert.Empty(Notes(two, two.Between(1, two.Truth.Guides.Count)));

        static Finding[] Notes(TrueTrace chain, double tapedMm)
        {
            SettledTrace seen = new(chain.Solution, chain.Trace, chain.Line, chain.Figures, chain.Uncertainty);
            SettledTrace told = seen.Told((u, to) => TapeCheck.Use(u, [new TapedDistance(1, null, tapedMm, 1)], to), new FindingLedger());
            return [.. ScaleByTape.Notes(seen, told)];
        }
    }

    /// <summary>What a card set up by hand may stand and lean moves a far point by much more than what is assumed of each of several cards.</summary>
    [Fact]
    public void ALoneCardMayStandOffAndLean()
    {
        CalibrationOptions each = new() { AssumedOffPlaneMm = 2 };
        CalibrationOptions alone = each with { LoneCardHeightSdMm = 4, LoneCardLeanSdDeg = 0.5 };
        Assert.Single(LoneCard.Notes(new TrueTrace("one-card", alone).Solution));
        Assert.Empty(LoneCard.Notes(new TrueTrace("clean-spinning", alone).Solution));
        double Part(string name, CalibrationOptions options)
        {
            TrueTrace chain = new(name, options);
            return Math.Sqrt(chain.Uncertainty.Figures.Variance(chain.Uncertainty.LengthAt, UncertaintyCause.CardOff));
        }

        // The height's part alone grows by 4 mm over 2/sqrt 3 mm.
        Assert.True(Part("one-card", alone) > 4 / (2 / Math.Sqrt(3)) * Part("one-card", each));
        Assert.Equal(Part("clean-spinning", each), Part("clean-spinning", alone), 1e-9);
    }

    /// <summary>A blank is no shorter than what is seen of it; a butt end that is 12 mm rounded is no contradiction.</summary>
    [Fact]
    public void ALengthShorterThanWhatIsSeenIsReported()
    {
        TrueTrace chain = new("clean-spinning");
        double seen = chain.Figures.Shape.LengthMm;
        Assert.Null(LengthCheck.TooShort(chain.Uncertainty, seen + 300));
        Assert.Null(LengthCheck.TooShort(chain.Uncertainty, seen - 12));
        Finding finding = LengthCheck.TooShort(chain.Uncertainty, 1000)!;
        Assert.Equal((FindingCode.CardOffPlane, Severity.Review), (finding.Code, finding.Severity));
        Assert.Contains($"{seen:0} mm of it are seen", finding.Message, StringComparison.Ordinal);
    }

    /// <summary>The tip's end moves every station alike: distances between guides know nothing of it, and it has a line of its own.</summary>
    [Fact]
    public void TheTipsEndMovesEveryStationAlike()
    {
        TrueTrace chain = new("clean-spinning");
        LayoutUncertainty u = chain.Uncertainty;
        for (int i = 0; i < u.Rings - 1; i++)
            Assert.Equal(LayoutUncertainty.TipEndSdMm, Math.Sqrt(u.Figures.Variance(i, UncertaintyCause.TipEnd)), 0.02);
        BudgetLine line = Assert.Single(UncertaintyBudget.Of(u, chain.Figures.Layout, chain.Solution).Lines, l => l.Cause == UncertaintyCause.TipEnd);
        Assert.Equal(2 * LayoutUncertainty.TipEndSdMm, line.StationMm, 0.05);
        Assert.All(u.StationMm.SkipLast(1), s => Assert.True(s >= 0.79));
        double apart = u.Figures.Variance(0) + u.Figures.Variance(3) - (2 * u.Figures.Covariance(0, 3));
        double without = apart - Math.Pow(0.02, 2);
        Assert.True(without < u.Figures.Variance(0) + u.Figures.Variance(3) - (2 * 0.9 * Math.Pow(LayoutUncertainty.TipEndSdMm, 2)));

        // A tape from the tip-top holds it.
        LayoutUncertainty taped = TapeCheck.Use(u, [new TapedDistance(1, null, chain.Figures.Layout.Rings[0].StationMm, 0.2)], new FindingLedger());
        Assert.True(taped.StationMm[^2] < u.StationMm[^2]);
    }

    /// <summary>Shape of the budget: parts add up in squares to the whole, and cards off the plane show in it as the photo's geometry says.</summary>
    [Fact]
    public void TheBudgetAddsUp()
    {
        TrueTrace chain = One.Value;
        BudgetReport budget = UncertaintyBudget.Of(chain.Uncertainty, chain.Figures.Layout, chain.Solution);
        double Whole(Func<BudgetLine, double> part) => Math.Sqrt(budget.Lines.Sum(l => part(l) * part(l)));
        Assert.Equal(chain.Uncertainty.GapMm[chain.Figures.Layout.LargestGap], Whole(l => l.GapMm), 1e-9);
        Assert.Equal(chain.Uncertainty.BowMm[chain.Figures.Layout.LargestBow], Whole(l => l.BowMm), 1e-9);
        Assert.Equal(chain.Uncertainty.StationMm[0], Whole(l => l.StationMm), 1e-9);

        // One card h nearer at distance D makes everything h/D longer: u = 2 · (10/sqrt 3)/D of the station.
        double expected = 2 * 10 / Math.Sqrt(3) / chain.Solution.DistanceMm * chain.Figures.Layout.Rings[0].StationMm;
        BudgetLine off = Assert.Single(budget.Lines, l => l.Cause == UncertaintyCause.CardOff);
        Assert.InRange(off.StationMm, 0.85 * expected, 1.15 * expected);
        Assert.NotNull(off.Do);
    }

    /// <summary>Two cards average their heights: each moves the middle by half, so the part falls by sqrt 2.</summary>
    [Fact]
    public void TwoCardsOffThePlaneCountLessThanOne()
    {
        TrueTrace two = new("clean-spinning", new CalibrationOptions { AssumedOffPlaneMm = 10 });
        double part = two.Uncertainty.Figures.Variance(two.Uncertainty.LengthAt, UncertaintyCause.CardOff);
        double alone = 10 / Math.Sqrt(3) / two.Solution.DistanceMm * two.Figures.Shape.LengthMm;
        Assert.InRange(Math.Sqrt(part) / alone, 0.4, 1.0);
    }

    [Theory]
    [InlineData("2-5=612mm±1", 2, 5, 612, 1)]
    [InlineData("2-5=612.5", 2, 5, 612.5, 2)]
    [InlineData("3-tip = 640 mm +-0.5", 3, null, 640, 0.5)]
    [InlineData("3-tip=25 3/16in±1/16", 3, null, 639.7625, 1.5875)]
    [InlineData("2-5=20in±2mm", 2, 5, 508, 2)]
    public void ATapedDistanceIsRead(string text, int from, int? to, double mm, double plusMinus) =>
        Assert.Equal(new TapedDistance(from, to, mm, plusMinus), TapedDistance.Parse(text));

    [Theory]
    [InlineData("2-5")]
    [InlineData("a-b=3")]
    [InlineData("2-5=612cm")]
    [InlineData("2-5=-6")]
    public void WhatIsNoneIsNotRead(string text) => Assert.Null(TapedDistance.Parse(text));
}

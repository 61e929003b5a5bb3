using DeflectScan.Accuracy.Compare;
using DeflectScan.Accuracy.Report;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Scenes;

/// <summary>The comparison sees known errors at their size: one that could not see a millimetre would be useless.</summary>
public class ComparisonTests
{
    private static readonly Truth Exact = Repository.Truth("clean-spinning");

    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("casting-top")]
    [InlineData("rotated-exif")]
    public void TheTruthItselfComparesWithoutError(string name)
    {
        Truth truth = Repository.Truth(name);
        PhotoComparison c = Comparison.Of(name, PerfectMeasurement.Of(truth), truth);
        Assert.True(c.StatusRight);
        Assert.Empty(c.Guides.Missed);
        Assert.Empty(c.Guides.False);
        Assert.Empty(c.Wrong);
        Assert.Equal(truth.Guides.Count - 1, c.Gaps.Count);
        Assert.All(c.Gaps.Concat(c.Bows).Concat(c.Stations), e => Assert.Equal(0, e.Error, 1e-9));
        Assert.True(c.AxisPx.Max() < 1e-3);
        Assert.True(c.AxisSpan > 0.99);
        Assert.True(c.DiameterMm.Max(Math.Abs) < 1e-3);
        Assert.True(c.LargestGapRight);
        Assert.True(c.LargestBowRight);
        Assert.All(Summary.Of([c]), l => Assert.NotEqual(false, l.Met));
    }

    [Fact]
    public void OneMillimetreOfGapIsSeenAndNotCovered()
    {
        PhotoComparison c = Compare(PerfectMeasurement.Of(Exact).WithGap(2, 1));
        Assert.Equal(1, c.Gaps[2].Error, 1e-9);
        Assert.False(c.Gaps[2].IsCovered);
        Assert.True(c.Gaps[1].IsCovered);
        Assert.Equal("3-4", c.Gaps[2].Where);
        Assert.Empty(c.Wrong);
    }

    [Fact]
    public void ThreeMillimetresOfGapAreWrongUnderOk()
    {
        PhotoComparison c = Compare(PerfectMeasurement.Of(Exact).WithGap(2, -3));
        Assert.Single(c.Wrong);
        SummaryLine line = Summary.Of([c]).Single(l => l.Figure.StartsWith("wrong figures", StringComparison.Ordinal));
        Assert.False(line.Met);
    }

    [Fact]
    public void AFigureThatIsNoNumberIsWrong()
    {
        PhotoComparison c = Compare(PerfectMeasurement.Of(Exact).WithGap(2, double.NaN));
        Assert.Single(c.Wrong);
    }

    [Fact]
    public void AnAxisHalfAPixelOffIsSeenAsHalfAPixel()
    {
        Measurement m = PerfectMeasurement.Of(Exact);
        ArcCurve curve = ArcCurve.Through([.. m.Blank!.Axis.Select(a => a.Px)]);
        AxisSample[] moved = [.. m.Blank.Axis.Select((a, i) => a with { Px = a.Px + (curve.Normal(curve.KnotStations[i]) * 0.5), DiameterMm = a.DiameterMm + 0.3 })];
        PhotoComparison c = Compare(m with { Blank = m.Blank with { Axis = moved } });
        Assert.All(c.AxisPx, e => Assert.Equal(0.5, e, 0.01));
        Assert.All(c.DiameterMm, e => Assert.Equal(0.3, e, 0.01));
    }

    [Fact]
    public void AnAxisThatStopsHalfwaySpansHalf()
    {
        Measurement m = PerfectMeasurement.Of(Exact);
        PhotoComparison c = Compare(m with { Blank = m.Blank! with { Axis = [.. m.Blank.Axis.Take(m.Blank.Axis.Count / 2)] } });
        Assert.Equal(0.5, c.AxisSpan, 0.02);
        Assert.True(c.AxisPx.Max() < 0.05);
    }

    [Fact]
    public void AMissedGuideAndAFalseOneAreCounted()
    {
        Measurement m = PerfectMeasurement.Of(Exact);
        PhotoComparison missing = Compare(m with { Guides = [.. m.Guides.Where(g => g.Index != 4)] });
        Assert.Equal([4], missing.Guides.Missed);
        Assert.Contains(missing.Wrong, w => w.Contains("guide 4 missed", StringComparison.Ordinal));
        GuideReport extra = m.Guides[3] with { Index = 99, RingPx = (m.Guides[3].RingPx + m.Guides[4].RingPx) / 2 };
        PhotoComparison spurious = Compare(m with { Guides = [.. m.Guides, extra] });
        Assert.Equal([99], spurious.Guides.False);
        PhotoComparison far = Compare(m.WithGuides(g => g.Index == 2 ? g with { RingPx = g.RingPx + new Vec2(60, 0) } : g));
        Assert.Equal([2], far.Guides.Missed);
        Assert.Equal([2], far.Guides.False);
    }

    [Fact]
    public void StationsAndRingsAreCompared()
    {
        PhotoComparison c = Compare(PerfectMeasurement.Of(Exact).WithGuides(g => g with { Station = g.Station with { Mm = g.StationMm + 2.5 }, RingPx = g.RingPx + new Vec2(0, 2) }));
        Assert.All(c.Stations, e => Assert.Equal(2.5, e.Error, 1e-9));
        Assert.All(c.RingPx, e => Assert.Equal(2, e, 1e-9));
        Assert.Equal(Exact.Guides.Count - 1, c.Wrong.Count);
    }

    [Fact]
    public void AnotherPairNamedAsLargestIsWrongUnlessItTies()
    {
        Measurement m = PerfectMeasurement.Of(Exact);
        Assert.False(Compare(m with { Largest = m.Largest! with { GapFrom = 5, GapTo = 6 } }).LargestGapRight);
        TruthInterval[] byBow = [.. Exact.Intervals.Skip(1).OrderByDescending(i => i.BowMm)];
        TruthInterval second = byBow[1];
        bool ties = byBow[0].BowMm - second.BowMm <= 0.5;
        Assert.Equal(ties, Compare(m with { Largest = m.Largest! with { BowFrom = second.From.GetInt32(), BowTo = second.To.GetInt32() } }).LargestBowRight);
    }

    [Fact]
    public void ABadPhotoNeedsTheRightCode()
    {
        Truth bad = Repository.Truth("bad-no-card");
        Measurement empty = PerfectMeasurement.Of(bad) with { Guides = [], Intervals = [], Blank = null, Largest = null };
        Assert.False(Comparison.Of("bad", empty, bad).StatusRight);
        Assert.False(Comparison.Of("bad", empty with { Status = MeasurementStatus.Refused, Findings = [Finding.Refuse(FindingCode.RodNotFound, "x")] }, bad).StatusRight);
        Assert.True(Comparison.Of("bad", empty with { Status = MeasurementStatus.Refused, Findings = [Finding.Refuse(FindingCode.CardMissing, "x")] }, bad).StatusRight);
        Assert.False(Compare(PerfectMeasurement.Of(Exact, MeasurementStatus.NeedsReview)).StatusRight);
    }

    [Fact]
    public void NothingMeasuredPassesForNothing()
    {
        Measurement none = PerfectMeasurement.Of(Exact, MeasurementStatus.Refused, Finding.Refuse(FindingCode.CardMissing, "x")) with { Guides = [], Intervals = [], Blank = null, Largest = null };
        IReadOnlyList<SummaryLine> lines = Summary.Of([Compare(none)]);
        Assert.All(lines.Take(11).Where(l => l.Bar.Length > 0 && !l.Figure.Contains("one card", StringComparison.Ordinal)), l => Assert.False(l.Met, l.Figure));
    }

    private static PhotoComparison Compare(Measurement m) => Comparison.Of("clean-spinning", m, Exact);
}

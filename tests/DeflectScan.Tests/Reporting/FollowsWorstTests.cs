using DeflectScan.Findings;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Reporting;

/// <summary>What the headline names and the pictures mark, on documents of exact truth.</summary>
public class FollowsWorstTests
{
    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("students-few")]
    [InlineData("loads-mid")]
    public void InsideTheBendTheRunningPairOfLargestBowIsNamedAndNotTheTallFirstRing(string name)
    {
        Measurement m = TruthDocument.Of(name);
        IntervalReport worst = m.Intervals.Skip(2).MaxBy(i => i.BowMm)!;
        Assert.Equal(worst, m.FollowsWorst);
        Assert.StartsWith("Follows worst: bow ", OverlayWords.Headline(m), StringComparison.Ordinal);
        Assert.Contains($"{worst.BowMm:0.0}", OverlayWords.Headline(m), StringComparison.Ordinal);
        Assert.Equal(worst, WorstFigure.Of(m)!.Pair);
        Assert.Contains("Largest gap", OverlayWords.Largest(m), StringComparison.Ordinal);
    }

    [Fact]
    public void OutsideItIsThePairOfLeastClearance()
    {
        Measurement m = TruthDocument.Of("casting-top");
        Assert.Equal(m.Intervals.MinBy(i => i.ClearanceMm), m.FollowsWorst);
        Assert.StartsWith("Follows worst: clearance ", OverlayWords.Headline(m), StringComparison.Ordinal);
        Assert.True(RunningReport.Of(m.Intervals, m.Side!.Value, null) is { ReductionGuides: 1, ByClearance: true });
    }

    /// <summary>Where guides may be missing or be none, no figure of theirs stands in the headline and no pair is marked.</summary>
    [Fact]
    public void WhereGuidesAreInDoubtTheHeadlineHasNoFigure()
    {
        Measurement m = TruthDocument.Of("clean-spinning") with
        {
            Status = MeasurementStatus.NeedsReview,
            Findings = [Finding.Review(FindingCode.GuidesUncertain, "A guide may stand 402 mm from the tip.")],
        };
        Assert.Equal("Needs review · which guides there are is in doubt", OverlayWords.Headline(m));
        Assert.Null(OverlayWords.Largest(m));
        Assert.Null(WorstFigure.Of(m));
    }

    [Fact]
    public void TheDocumentKeepsItBesideTheLargest()
    {
        Measurement m = TruthDocument.Of("clean-spinning");
        m = m with { Running = RunningReport.Of(m.Intervals, m.Side!.Value, 4) };
        Measurement read = MeasurementJson.Read(MeasurementJson.Write(m)).Value!;
        Assert.Equal(m.Running, read.Running);
        Assert.Equal(4, read.Running!.ReductionGuides);
        Assert.Equal(m.Largest, read.Largest);
        Assert.Equal(m.Intervals.Skip(3).MaxBy(i => i.BowMm)!.From, read.FollowsWorst!.From);
        Assert.DoesNotContain("\"running\"", MeasurementJson.Write(m with { Running = null }), StringComparison.Ordinal);
    }
}

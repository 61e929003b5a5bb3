using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Measuring;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Desk;

/// <summary>The suggestion, spacing and what-if are one search, one judgement and one ring height, on rods of exact truth.</summary>
public class OneJudgementTests
{
    public static TheoryData<string> Rods { get; } = new("clean-spinning", "students-few", "thin-braid", "wall-shadow", "yaw12", "casting-top");

    [Theory]
    [MemberData(nameof(Rods))]
    public void TheSuggestionIsSpacingsOptimumToTheLastDigit(string name)
    {
        MeasuredLayout rod = Rod(name);
        SuggestionReport s = rod.Measurement.Suggestion!;
        int guides = rod.Rings.Count - 1;
        SpacingReport spacing = InputException.Unless(SpacingReport.Of(rod, new() { Guides = s.Layout.Count > 0 ? s.Layout.Count - 1 : guides }, null));

        // One judgement: one more guide is proposed exactly where the curve says that it pays.
        Assert.Equal(s.AddAtMm is not null, spacing.Curve.Single(c => c.Guides == guides + 1).Pays);
        if (s.Layout.Count == 0)
            return;
        Assert.Equal(s.BowAfterMm, spacing.Layout!.Pairs.Skip(spacing.Held - 1).Max(p => p.BowMm), 5.1e-5); // the document has 4 decimals
        Assert.Equal(s.Layout.Select(g => g.StationMm), spacing.Layout.Guides.Select(g => g.StationMm));
        WhatIfReport whatIf = InputException.Unless(WhatIfReport.Of(rod, WhatIfReport.Suggested(rod), null));
        for (int i = 0; i < s.Layout.Count; i++)
        {
            Assert.Equal(whatIf.After.Guides[i].StationMm, spacing.Layout.Guides[i].StationMm, 1e-9);
            Assert.Equal(whatIf.After.Guides[i].HeightMm, spacing.Layout.Guides[i].HeightMm, 1e-9);
        }

        Assert.Equal(whatIf.After.LargestGap.GapMm, spacing.Layout.LargestGap.GapMm, 1e-9);
        Assert.Equal(whatIf.After.FollowsWorst, whatIf.After.Pairs.Skip(whatIf.After.ReductionGuides - 1).MaxBy(p => name == "casting-top" ? -p.ClearanceMm : p.BowMm));
    }

    [Fact]
    public void AtLeastOneOfTheseRodsGetsAGuideAndOneIsLeftAlone()
    {
        Assert.NotNull(Rod("students-few").Measurement.Suggestion!.AddAtMm);
        Assert.Null(Rod("clean-spinning").Measurement.Suggestion!.AddAtMm);
    }

    private static MeasuredLayout Rod(string name)
    {
        Measurement m = TruthDocument.Of(name);
        Measurement suggested = m with { Suggestion = SuggestionBuilder.Build(m, mm => mm, Repository.Truth(name).RodPlane()) };
        return MeasuredLayout.Of(MeasurementJson.Read(MeasurementJson.Write(suggested)).Value!).Value!;
    }
}

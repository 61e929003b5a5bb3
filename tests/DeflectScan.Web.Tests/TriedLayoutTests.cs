using DeflectScan.Bending;
using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Reporting.Json;
using DeflectScan.Web.Trying;

namespace DeflectScan.Web.Tests;

/// <summary>A tried layout on a measured rod: the way to it at the bench, the best spacing as changes, the same rod at other loads.</summary>
[Collection(PageTests.Name)]
public class TriedLayoutTests(PageFixture page)
{
    private async Task<MeasuredLayout> Rod() =>
        MeasuredLayout.Of(MeasurementJson.Read(await page.Server.Http.GetStringAsync($"/api/photos/{page.Measured}/measurement/read.json")).Value!).Value!;

    private static WhatIfReport Tried(MeasuredLayout rod, IReadOnlyList<GuideChange> changes)
    {
        WhatIfReport report = InputException.Unless(WhatIfReport.Of(rod, changes, null));
        return report;
    }

    /// <summary>Made one after the other on a blank as in life: no guide goes past another one, and what stands at the end is the layout.</summary>
    [Theory]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(8)]
    [InlineData(9)]
    public async Task TheMovesLeadToTheLayoutAndNoGuideGoesPastAnother(int guides)
    {
        MeasuredLayout rod = await Rod();
        SpacingReport best = InputException.Unless(SpacingReport.Of(rod, new SpacingRequest { Guides = guides }, null));
        WhatIfReport report = Tried(rod, SpacingChanges.Of(rod, best));
        List<double> standing = [.. rod.Rings.Select(r => r.StationMm)];
        foreach (BenchMove move in BenchMoves.Of(rod, report.After))
        {
            if (move.FromMm is { } from)
                Assert.True(standing.Remove(from), $"{move} takes a guide from where none is.");
            if (move.FromMm is { } a && move.ToMm is { } b)
                Assert.DoesNotContain(standing, s => s > Math.Min(a, b) && s < Math.Max(a, b));
            if (move.ToMm is { } to)
                standing.Add(to);
        }

        Assert.Equal(report.After.Guides.Select(g => g.StationMm), standing.OrderDescending());
        Assert.Equal(best.Layout!.Guides.Select(g => Math.Round(g.StationMm, 4)), report.After.Guides.Select(g => Math.Round(g.StationMm, 4)));
    }

    /// <summary>A guide towards the reel behind one that goes the same way must wait for it.</summary>
    [Fact]
    public async Task AGuideWhosePlaceIsStillTakenWaits()
    {
        MeasuredLayout rod = await Rod();
        double four = rod.Rings[3].StationMm, five = rod.Rings[4].StationMm;
        WhatIfReport report = Tried(rod, [new MoveTo(5, four + 10), new MoveTo(4, four + 60), new TakeOff(7)]);
        Assert.Equal([(BenchAct.TakeOff, 7), (BenchAct.Slide, 4), (BenchAct.Slide, 5)], BenchMoves.Of(rod, report.After).Select(m => (m.Act, m.Guide!.Value)));
        Assert.True(five < four);
    }

    [Theory]
    [InlineData(7)]
    [InlineData(9)]
    public async Task ABestSpacingTakenAsChangesHasItsFigures(int guides)
    {
        MeasuredLayout rod = await Rod();
        SpacingReport best = InputException.Unless(SpacingReport.Of(rod, new SpacingRequest { Guides = guides }, null));
        JudgedLayout after = Tried(rod, TriedLayout.Read(TriedLayout.Write(SpacingChanges.Of(rod, best)))).After;
        Assert.Equal(best.Layout!.Pairs.Select(p => (Math.Round(p.GapMm, 4), Math.Round(p.BowMm, 4))), after.Pairs.Select(p => (Math.Round(p.GapMm, 4), Math.Round(p.BowMm, 4))));
    }

    /// <summary>The layout as measured, tried, bends as the measured rod does; at the photographed load a tried one has the figures of the what-if.</summary>
    [Fact]
    public async Task ATriedLayoutAtTheMeasuredLoadIsTheWhatIf()
    {
        MeasuredLayout rod = await Rod();
        BendRequest one = new([AskedBend.Load(1)]);
        BendCase Bent(MeasuredLayout of) => BendStudy.Of(of, new BlankSource(rod.Measurement).Estimate(), one).Value!.Bends[0];
        BendCase measured = Bent(rod), same = Bent(TriedRod.Of(rod, JudgedLayout.Measured(rod)));
        Assert.Equal(measured.Pairs.Select(p => (Math.Round(p.GapMm, 4), Math.Round(p.BowMm, 4))), same.Pairs.Select(p => (Math.Round(p.GapMm, 4), Math.Round(p.BowMm, 4))));
        WhatIfReport report = Tried(rod, [new MoveTo(5, 402.3), new TakeOff(2)]);
        BendCase tried = Bent(TriedRod.Of(rod, report.After));
        Assert.Equal(report.After.Pairs.Count, tried.Pairs.Count);
        foreach ((JudgedPair judged, BendPair bent) in report.After.Pairs.Zip(tried.Pairs))
            Assert.InRange(Math.Abs(judged.BowMm - bent.BowMm), 0, 0.5); // the fitted bend smooths the traced one; bows of up to 20 mm
    }
}

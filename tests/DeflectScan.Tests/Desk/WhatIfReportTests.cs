using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Layout.Guides;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Desk;

public class WhatIfReportTests
{
    private static readonly MeasuredLayout Rod = MeasuredLayout.Of(TruthDocument.Of("clean-spinning")).Value!;
    private static readonly MeasuredLayout Casting = MeasuredLayout.Of(TruthDocument.Of("casting-top")).Value!;

    [Fact]
    public void WhatStaysKeepsItsMeasuredFigures()
    {
        WhatIfReport report = Make(Rod, new MoveTo(5, 380));
        Assert.Equal(report.Before.Pairs.Take(3), report.After.Pairs.Take(3));
        Assert.NotEqual(report.Before.Pairs[4], report.After.Pairs[4]);
        for (int i = 0; i < report.Before.Pairs.Count; i++)
            Assert.Equal(Rod.Measurement.Intervals[i].GapMm, report.Before.Pairs[i].GapMm);
        Assert.Equal(380, report.After.Guides[4].StationMm);
        Assert.Equal(report.Before.Guides[4].FromReelMm + report.Before.Guides[4].StationMm, report.After.Guides[4].FromReelMm + 380);
    }

    /// <summary>Angles of a rod in one piece: what the line turns through in all does not depend on where the guides stand.</summary>
    [Fact]
    public void TheLineTurnsThroughTheSameAngleInAll()
    {
        WhatIfReport report = Make(Rod, new MoveTo(4, 560), new AddAt(300), new TakeOff(6));
        Assert.Equal(report.Before.Guides.Sum(g => g.LineAngleDeg!.Value), report.After.Guides.Sum(g => g.LineAngleDeg!.Value), 1e-6);
        Assert.All(report.After.Guides, g => Assert.InRange(g.LineAngleUncertaintyDeg!.Value, 0.01, 3));
        Assert.Null(Make(Rod, new MoveTo(1, Rod.Rings[0].StationMm + 20)).After.Guides[0].LineAngleDeg);
    }

    [Fact]
    public void APredictionIsNeverMoreCertainThanTheMeasurementUnderIt()
    {
        WhatIfReport report = Make(Rod, new TakeOff(5), new AddAt(150));
        double least = Rod.Measurement.Intervals.Min(i => i.Gap.UncertaintyMm);
        Assert.All(report.After.Pairs, p => Assert.True(p.GapUncertaintyMm >= least));
        JudgedPair joined = report.After.Pairs[3];
        Assert.True(joined.GapUncertaintyMm > Rod.Measurement.Intervals[3].Gap.UncertaintyMm);
        JudgedGuide added = report.After.Guides.Single(g => g.MeasuredAs is null);
        Assert.True(added.HeightUncertaintyMm >= 0.5);
    }

    [Fact]
    public void ARingOfTheTableStandsAsHighAsTheTableSays()
    {
        GuideTable table = GuideTable.Parse("ring,height_mm,mass_g,bore_mm\n10,13,0.8,7\n").Value!;
        WhatIfReport inside = Make(Rod, table, new AddAt(300, 10));
        JudgedGuide ring = inside.After.Guides.Single(g => g.MeasuredAs is null);
        Assert.Equal(Rod.Shape.RadiusMm(300) + 13 + 3.5, ring.HeightMm, 1e-9);
        Assert.Equal(10, ring.RingOuterMm);
        WhatIfReport outside = Make(Casting, table, new MoveTo(3, 640, 10));
        Assert.Equal(Casting.Shape.RadiusMm(640) + 13 - 3.5, outside.After.Guides[2].HeightMm, 1e-9);
        string missing = WhatIfReport.Of(Rod, [new AddAt(300, 12)], table).Findings[0].Message;
        Assert.Contains("no ring size 12", missing, StringComparison.Ordinal);
        string none = WhatIfReport.Of(Rod, [new AddAt(300, 12)], null).Findings[0].Message;
        Assert.Contains("give such a table", none, StringComparison.Ordinal);
    }

    [Fact]
    public void WhereTheLineWouldLieOnTheBlankIsSaid()
    {
        WhatIfReport report = Make(Casting, new TakeOff(3));
        Assert.Contains(report.After.Pairs, p => p.TouchesBlank);
        Assert.Contains(report.Notes, n => n.Contains("would lie on the blank", StringComparison.Ordinal));
        Assert.DoesNotContain(Make(Rod, new MoveTo(5, 380)).Notes, n => n.Contains("touch", StringComparison.Ordinal));
    }

    /// <summary>A rod that points left is the same rod: the document in a mirror gives the same figures, and places in the mirrored photo.</summary>
    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("casting-top")]
    public void ARodThatPointsLeftIsTheSameRod(string name)
    {
        Measurement m = TruthDocument.Of(name);
        double width = m.Photo!.WidthPx - 1;
        Vec2 Mirrored(Vec2 px) => new(width - px.X, px.Y);
        MeasuredLayout left = MeasuredLayout.Of(m with
        {
            Blank = m.Blank! with { Axis = [.. m.Blank.Axis.Select(a => a with { Mm = new(-a.Mm.X, a.Mm.Y), Px = Mirrored(a.Px) })] },
            Guides = [.. m.Guides.Select(g => g with { RingPx = Mirrored(g.RingPx) })],
        }).Value!;
        GuideChange[] changes = [new MoveTo(4, left.Rings[3].StationMm + 25), new AddAt(60), new TakeOff(2)];
        WhatIfReport there = Make(left, changes), here = Make(MeasuredLayout.Of(m).Value!, changes);
        for (int i = 0; i < here.After.Pairs.Count; i++)
        {
            Assert.Equal(here.After.Pairs[i].GapMm, there.After.Pairs[i].GapMm, 1e-6);
            Assert.Equal(here.After.Pairs[i].ClearanceMm, there.After.Pairs[i].ClearanceMm, 1e-6);
            Assert.Equal(here.After.Guides[i].LineAngleDeg!.Value, there.After.Guides[i].LineAngleDeg!.Value, 1e-6);
            Assert.InRange(Mirrored(here.After.Guides[i].RingPx).DistanceTo(there.After.Guides[i].RingPx), 0, 1e-3);
        }
    }

    [Fact]
    public void ChangesReadAsTheyAreTyped()
    {
        ChangeText tip = new(Rod, FromReel: false);
        Assert.Equal(new MoveTo(5, Rod.Rings[4].StationMm + 12), tip.Move("5=+12mm").Value);
        Assert.Equal(new MoveTo(5, 402), tip.Move("5=402mm").Value);
        Assert.Equal(new MoveTo(5, 401.6375, 8), tip.Move("5=15 13/16in@8").Value);
        Assert.Equal(new AddAt(512), tip.Add("512mm").Value);
        Assert.Equal(new TakeOff(6), tip.Remove("6").Value);
        ChangeText reel = new(Rod, FromReel: true);
        Assert.Equal(new AddAt(Rod.ReelStationMm!.Value - 1000), reel.Add("1000mm").Value);
        Assert.Equal(new MoveTo(5, Rod.Rings[4].StationMm - 12), reel.Move("5=+12mm").Value);
        Outcome<GuideChange>[] wrong =
        [
            tip.Move("5"), tip.Move("x=5"), tip.Move("99=5mm"), tip.Move("5=abc"), tip.Add("-5mm"), tip.Add("5mm@x"), tip.Remove($"{Rod.Rings.Count}"),
        ];
        Assert.All(wrong, w => Assert.EndsWith(".", Assert.Single(w.Findings).Message, StringComparison.Ordinal));
    }

    /// <summary>The bar for one evaluation of twelve guides is 1 ms; this is the whole report with uncertainties and places in the photo.</summary>
    [Fact]
    public void AWholeReportIsFastEnoughToFollowAFinger()
    {
        GuideChange[] changes = [.. Enumerable.Range(0, 12 - (Rod.Rings.Count - 1)).Select(i => new AddAt(40 + (37 * i)))];
        double mean = ThreadClock.Mean(bar: 50, runs: 5, rounds: 30, () =>
        {
            WhatIfReport report = InputException.Unless(WhatIfReport.Of(Rod, changes, null));
            Assert.Equal(13, report.After.Guides.Count);
        });
        Assert.True(mean <= 50, $"{mean:F2} ms");
    }

    private static WhatIfReport Make(MeasuredLayout rod, params GuideChange[] changes) => Make(rod, null, changes);

    private static WhatIfReport Make(MeasuredLayout rod, GuideTable? table, params GuideChange[] changes)
    {
        WhatIfReport report = InputException.Unless(WhatIfReport.Of(rod, changes, table));
        return report;
    }
}

using System.Text;
using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Layout.Guides;
using DeflectScan.Layout.Spacing;
using DeflectScan.Reporting.Plots;
using DeflectScan.Scenes;
using UglyToad.PdfPig;

namespace DeflectScan.Tests.Desk;

public class SpacingReportTests
{
    private static readonly MeasuredLayout Rod = MeasuredLayout.Of(TruthDocument.Of("clean-spinning")).Value!;
    private static readonly GuideTable Table = GuideTable.Parse("ring,height_mm,mass_g,bore_mm\n6,7.5,0.28,4.3\n8,9,0.4,6\n").Value!;

    [Fact]
    public void HeldGuidesStayAndTheLargestBowIsThatOfTheCurve()
    {
        SpacingReport report = Make(new() { Guides = 8 });
        Assert.Equal(3, report.Held);
        Assert.Equal(9, report.Layout!.Guides.Count);
        Assert.Equal(report.Before.Guides.Take(3).Select(g => g.StationMm), report.Layout.Guides.Take(3).Select(g => g.StationMm));
        SpacingStep eight = report.Curve.Single(s => s.Guides == 8);
        Assert.Equal(eight.LargestBowMm, report.Layout.Pairs.Skip(2).Max(p => p.BowMm), 1e-3);
        Assert.Equal(eight.LargestGapMm, report.Layout.Pairs.Skip(2).Max(p => p.GapMm), 1e-3);
        Assert.All(report.Layout.Guides.Skip(3).SkipLast(1), g => Assert.Equal(Math.Round(g.StationMm), g.StationMm, 1e-9));
    }

    [Fact]
    public void TheCurveFallsAndSaysWhatOneMoreGuideTakesOff()
    {
        SpacingReport report = Make(new() { CurveTo = 9, RingSize = 6 });
        Assert.Null(report.Layout);
        Assert.Equal(Enumerable.Range(3, 10), report.Curve.Select(s => s.Guides));
        for (int i = 1; i < report.Curve.Count; i++)
        {
            Assert.Equal(report.Curve[i - 1].LargestBowMm - report.Curve[i].LargestBowMm, report.Curve[i].TakesOffMm!.Value, 2e-3);
            Assert.Equal(0.28 * i, report.Curve[i].RunningMassG!.Value, 1e-12);
        }

        SpacingStep last = report.Curve.Single(s => s.Guides == report.PaysUpTo);
        SpacingStep next = report.Curve[report.Curve.ToList().IndexOf(last) + 1];
        Assert.True(last.TakesOffMm >= 1 && last.Pays && !next.Pays);

        // As the suggestion judges: each further guide pays while the line turns sharply without it.
        double Steepest(int guides) => Make(new() { Guides = guides }).Layout!.Pairs.Skip(2).Max(p => p.BowMm / p.ChordMm);
        Assert.True(Steepest(last.Guides) <= 0.045);
        Assert.True(Steepest(last.Guides - 1) > 0.045);
    }

    [Fact]
    public void TheFewestGuidesWithinALimitAreFound()
    {
        SpacingReport bow = Make(new() { LargestBowMm = 5 });
        int guides = bow.Layout!.Guides.Count - 1;
        Assert.True(bow.Curve.Single(s => s.Guides == guides).LargestBowMm <= 5);
        Assert.True(bow.Curve.Single(s => s.Guides == guides - 1).LargestBowMm > 5);
        SpacingReport gap = Make(new() { LargestGapMm = 16 });
        Assert.Equal(SpacingGoal.Gap, gap.Goal);
        Assert.True(gap.Layout!.Pairs.Skip(2).Max(p => p.GapMm) <= 16 + 1e-3);
    }

    [Fact]
    public void ZonesSpacingAndRoundingAreKept()
    {
        SpacingOptions options = new() { Forbidden = [new(300, 420)], LeastSpacingMm = 70, GridMm = 5 };
        SpacingReport report = Make(new() { Guides = 8, Options = options });
        double[] running = [.. report.Layout!.Guides.Skip(2).Select(g => g.StationMm)];
        Assert.DoesNotContain(running, s => s is >= 300 and <= 420);
        Assert.All(running.Skip(1).SkipLast(1), s => Assert.Equal(0, s % 5, 1e-9));
        double[] spacing = [.. running.Zip(running.Skip(1), (a, b) => a - b)];
        Assert.All(spacing, s => Assert.True(s >= 70 - 1e-9));
        Assert.All(spacing.Zip(spacing.Skip(1)), p => Assert.True(p.Second <= p.First + 1e-9));
    }

    [Theory]
    [InlineData("Give one of", 8, 5.0, null)]
    [InlineData("as many in all", 2, null, null)]
    [InlineData("find no room", 30, null, null)]
    [InlineData("by its ring's height alone", null, null, 5.0)]
    [InlineData("No number of guides", null, 0.001, null)]
    public void WhatCannotBePlacedIsSaidInOneSentence(string says, int? guides, double? bow, double? gap)
    {
        string problem = SpacingReport.Of(Rod, new() { Guides = guides, LargestBowMm = bow, LargestGapMm = gap }, null).Findings[0].Message;
        Assert.Contains(says, problem, StringComparison.Ordinal);
        Assert.EndsWith(".", problem, StringComparison.Ordinal);
    }

    [Fact]
    public void ThePlotIsAPictureInEveryFormatAndTheSameEveryTime()
    {
        SpacingReport report = Make(new() { Guides = 8, RingSize = 6 });
        byte[] png = BowCurvePlot.Draw(report, "Test rod", PlotFormat.Png);
        using (OpenCvSharp.Mat picture = OpenCvSharp.Cv2.ImDecode(png, OpenCvSharp.ImreadModes.Color))
            Assert.Equal((1440, 940), (picture.Width, picture.Height));
        string svg = Encoding.UTF8.GetString(BowCurvePlot.Draw(report, "Test rod", PlotFormat.Svg));
        Assert.StartsWith("<?xml", svg, StringComparison.Ordinal);
        Assert.EndsWith("</svg>", svg.TrimEnd(), StringComparison.Ordinal);
        Assert.DoesNotContain("<text", svg, StringComparison.Ordinal);
        using PdfDocument pdf = PdfDocument.Open(BowCurvePlot.Draw(report, "Test rod", PlotFormat.Pdf));
        Assert.Equal(1, pdf.NumberOfPages);
        foreach (PlotFormat format in Enum.GetValues<PlotFormat>())
            Assert.Equal(BowCurvePlot.Draw(report, "Test rod", format), BowCurvePlot.Draw(report, "Test rod", format));
    }

    private static SpacingReport Make(SpacingRequest request)
    {
        SpacingReport report = InputException.Unless(SpacingReport.Of(Rod, request, Table));
        return report;
    }
}

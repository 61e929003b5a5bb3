using DeflectScan.Geometry;
using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Comparing;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Reporting.Plots;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Scenes.Samples;
using UglyToad.PdfPig;

namespace DeflectScan.Records.Tests;

public class ReportTests
{
    [Fact]
    public void TheSheetSaysAllThatIsKnownAndEscapesIt()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        string id = writer.AddBuild(MadeUp.Facts(3) with { Name = "<script>alert(1)</script>", Owner = "\"A\" & B" });
        writer.AddMeasurement(id, MadeUp.Measurement(MadeUp.Photo(scratch.Folder("p"), 1), 1));
        writer.AddNote(id, NoteKind.TestCast, "42 m, <clean>");
        BuildSheet sheet = BuildSheet.Of(writer.Reader, writer.Reader.Build(id)!);

        // The file that stands for a photo cannot be opened: the figures are printed all the same, and the sheet says why there is no picture.
        Assert.Null(sheet.Pictures!.Overlay);
        string html = BuildSheetHtml.Write([sheet]);
        Assert.DoesNotContain("<script", html, StringComparison.Ordinal);
        Assert.DoesNotContain("<clean>", html, StringComparison.Ordinal);
        Assert.DoesNotContain("http:", html.Replace("http-equiv", "", StringComparison.Ordinal), StringComparison.Ordinal);
        foreach (string text in new[] { "402.0", "15 13/16 in", "eye protection", "test cast", "low frame", "cannot be opened" })
            Assert.Contains(text, html, StringComparison.Ordinal);
        using PdfDocument pdf = PdfDocument.Open(BuildSheetPdf.Write([sheet, sheet], SheetPaper.A4));
        string words = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        foreach (string text in new[] { "402.0", "15 13/16 in", "eye protection", "test cast", "low frame", "cannot be opened" })
            Assert.Contains(text, words, StringComparison.Ordinal);
    }

    [Fact]
    public void AGuideThatWasAddedAndOneThatMovedAreTold()
    {
        Measurement before = SampleMeasurement.Ok;
        Measurement after = before with
        {
            Guides =
            [
                before.Guides[0], before.Guides[1] with { Station = before.Guides[1].Station with { Mm = 245.25 } }, new GuideReport(3, false, new(102.5, 1), null, new(2500, 1100), new(9.5, 0.3), null, 5, Tracing.Source.Traced),
                before.Guides[2] with { Index = 4 },
            ],
            Intervals = [before.Intervals[0] with { Gap = new(20, 0.6) }, before.Intervals[1] with { Gap = new(9, 0.5), Bow = new(5, 0.3) }, before.Intervals[1] with { From = 3, To = 4, Gap = new(8, 0.5), Bow = new(4, 0.3) }],
            Blank = Bent(),
        };
        Comparison c = Comparison.Of(before with { Blank = Bent() }, after);
        Assert.Equal([(1, 1), (2, 2), (null, 3), (3, 4)], c.Guides.Select(g => (g.Before, g.After)));
        Assert.Equal(30, c.Guides[1].MovedMm!.Value, 6);
        Assert.InRange(c.Shape.RmsMm, 0, 1e-6);

        // Uncertainty of a difference of independent figures: the root of the sum of squares (JCGM 100, 5.1.2).
        Assert.Equal(Math.Sqrt(2 * 0.6 * 0.6), c.Pairs[0].Gap!.UncertaintyMm, 9);
        Assert.Equal(-7.1, c.LargestGap!.ByMm, 9);
        Assert.Equal((21.2, 9.0), (c.ReplacedGap!.BeforeMm, c.ReplacedGap.AfterMm));
        Assert.Contains(c.Changes, s => s.StartsWith("A guide was added 102.5 mm from the tip", StringComparison.Ordinal));
        Assert.Contains(c.Changes, s => s.Contains("moved 30.0 mm toward the reel", StringComparison.Ordinal));
    }

    /// <summary>The picture of a build's tests names the pair of each that follows worst, in the unit asked for; 25.4 mm are 1 in.</summary>
    [Fact]
    public void TheHistoryPlotNamesThePairsThatFollowWorst()
    {
        StoredMeasurement Test(int number, WorstPair? worst) => new()
        {
            Id = $"{number}", BuildId = "b", PhotoSha256 = "", DocumentSha256 = "", MadeAt = DateTime.UnixEpoch, ProgramVersion = "0", Settings = "{}", Status = MeasurementStatus.Ok,
            TracedLengthMm = 1700, TipTurnDeg = 80, GuideCount = 7, LargestGapMm = 33.5, LargestGapUncertaintyMm = 0.2, Worst = worst,
        };
        Build build = new(
            "b", default, new BuildFacts { Name = "Made up" }, [], [Test(1, new WorstPair(5, 6, false, false, 25.4, 0.2)), Test(2, new WorstPair(7, 8, true, false, 12.7, 0.2)), Test(3, new WorstPair(3, 4, false, true, -2.54, 0.2)), Test(4, null)], [], null, []);
        IReadOnlyList<HistoryStep> steps = HistorySeries.Of(build);
        Assert.Equal(-12.7, steps[1].WorstChange!.ByMm, 9);
        Assert.Null(steps[2].WorstChange);
        // Words are drawn as outlines, so what stands at a point is asked for; that it is drawn shows in that the pictures differ.
        Assert.Equal("25.4, 5 to 6", HistoryPlot.Label(25.4, steps[0].Worst, LengthUnit.Millimetres));
        Assert.Equal("0.50, 7 to tip-top", HistoryPlot.Label(12.7, steps[1].Worst, LengthUnit.Inches));
        Assert.Equal("-2.5, 3 to 4", HistoryPlot.Label(-2.54, steps[2].Worst, LengthUnit.Millimetres));
        byte[] drawn = HistoryPlot.Draw(steps, "Made up", PlotFormat.Svg);
        Build other = build with { Measurements = [.. build.Measurements.Select(t => t.Worst is { } w ? t with { Worst = w with { From = 2, To = 3 } } : t)] };
        Assert.NotEqual(drawn, HistoryPlot.Draw(HistorySeries.Of(other), "Made up", PlotFormat.Svg));
        Assert.NotEqual(drawn, HistoryPlot.Draw(steps, "Made up", PlotFormat.Svg, LengthUnit.Inches));
        Assert.Equal(drawn, HistoryPlot.Draw(steps, "Made up", PlotFormat.Svg));
    }

    private static BlankReport Bent() => new(600, 80, [.. Enumerable.Range(0, 121).Select(i =>
    {
        double angle = i * 5 / 420.0;
        return new AxisSample(i * 5, new(3400 - (420 * Math.Sin(angle)), 900 - (420 * (1 - Math.Cos(angle)))), new(-420 * Math.Sin(angle), 420 * (1 - Math.Cos(angle))), 2);
    })]);
}

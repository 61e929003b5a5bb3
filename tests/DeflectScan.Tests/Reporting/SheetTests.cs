using System.Globalization;
using System.Text.RegularExpressions;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Scenes;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Graphics;

namespace DeflectScan.Tests.Reporting;

/// <summary>The printed sheets, read back by another library in the PDF's own coordinates (points of 1/72 in).</summary>
public partial class SheetTests
{
    private const double MmPerPoint = UnitsText.MmPerInch / 72;

    [Theory]
    [InlineData(SheetPaper.A4, "clean-spinning")]
    [InlineData(SheetPaper.Letter, "clean-spinning")]
    [InlineData(SheetPaper.A4, "casting-top")]
    [InlineData(SheetPaper.Letter, "one-card")]
    public void TheTapesStationsLieWithinATenthOfAMillimetre(SheetPaper paper, string name)
    {
        SheetLayout layout = SceneSheets.From(Repository.Truth(name));
        using PdfDocument pdf = PdfDocument.Open(MarkingTape.Draw(layout, paper));
        List<double> found = [];
        double covered = 0;
        foreach (Page page in pdf.GetPages())
        {
            foreach ((double fromMm, double toMm, PdfRectangle frame) in Strips(page))
            {
                Assert.Equal(covered, fromMm, 6);
                covered = toMm;
                found.AddRange(StationLines(page, frame).Select(x => fromMm + ((x - frame.Left) * MmPerPoint)));
            }
        }

        Assert.True(covered >= layout.Guides.Max(g => g.FromTipMm));
        double[] expected = [.. layout.Guides.Select(g => g.FromTipMm).Order()];
        found.Sort();
        Assert.Equal(expected.Length, found.Count);
        for (int i = 0; i < expected.Length; i++)
            Assert.True(Math.Abs(expected[i] - found[i]) < 0.1, $"station {expected[i]} is printed at {found[i]}");
    }

    [Theory]
    [InlineData(SheetPaper.A4)]
    [InlineData(SheetPaper.Letter)]
    public void EveryTapePageCarriesARuleOfExactly100Millimetres(SheetPaper paper)
    {
        SheetLayout layout = SceneSheets.From(Repository.Truth("clutter-bench"));
        using PdfDocument pdf = PdfDocument.Open(MarkingTape.Draw(layout, paper));
        Assert.True(pdf.NumberOfPages > 1);
        foreach (Page page in pdf.GetPages())
        {
            Assert.Contains("100 mm long", page.Text, StringComparison.Ordinal);
            double[] level = [.. page.Paths.Where(p => p.IsStroked).Select(p => p.GetBoundingRectangle()).Where(b => b is { Height: < 0.01, Width: > 50 })
                .Where(b => b!.Value.Bottom > page.Height - (25 / MmPerPoint)).Select(b => b!.Value.Width * MmPerPoint)];
            Assert.Contains(level, w => Math.Abs(w - 100) < 0.02);
        }
    }

    /// <summary>A4 is 210 × 297 mm (ISO 216); Letter is 8.5 × 11 in (ANSI/ASME Y14.1).</summary>
    [Theory]
    [InlineData(SheetPaper.A4, 210, 297)]
    [InlineData(SheetPaper.Letter, 215.9, 279.4)]
    public void TheLayoutSheetIsOnePageWithEveryStation(SheetPaper paper, double widthMm, double heightMm)
    {
        SheetLayout layout = SceneSheets.From(Repository.Truth("clutter-bench"));
        using PdfDocument pdf = PdfDocument.Open(LayoutSheet.Draw(layout, paper));
        Assert.Equal(1, pdf.NumberOfPages);
        Page page = pdf.GetPage(1);
        Assert.Equal(widthMm, page.Width * MmPerPoint, 1);
        Assert.Equal(heightMm, page.Height * MmPerPoint, 1);
        string[] words = [.. page.GetWords().Select(w => w.Text)];
        foreach (SheetGuide g in layout.Guides)
        {
            Assert.Contains($"{g.FromTipMm:0.0}", words);
            Assert.Contains($"{g.FromReelMm:0.0}", words);
        }

        Assert.Contains("protection,", words);
    }

    /// <summary>The drawing is to the scale that it states: the rings' distances along its rows, each of which goes on where the one above ends, 180 mm of paper on.</summary>
    [Fact]
    public void TheDrawingKeepsItsScale()
    {
        SheetLayout layout = SceneSheets.From(Repository.Truth("clean-spinning"));
        using PdfDocument pdf = PdfDocument.Open(LayoutSheet.Draw(layout, SheetPaper.A4));
        Page page = pdf.GetPage(1);
        double scale = double.Parse(ScaleWords().Match(string.Join(' ', page.GetWords().Select(w => w.Text))).Groups[1].Value, CultureInfo.InvariantCulture);
        (double X, double Y)[] rings = [.. page.Paths.Where(p => p.IsStroked && p.SelectMany(s => s.Commands).Any(c => c is PdfSubpath.BezierCurve))
            .Select(p => p.GetBoundingRectangle()!.Value).Select(b => ((b.Left + b.Right) / 2 * MmPerPoint, (b.Bottom + b.Top) / 2 * MmPerPoint))];
        Assert.Equal(layout.Guides.Count, rings.Length);
        double width = (page.Width * MmPerPoint) - 30;
        double[] fromTip = [.. layout.Guides.Select(g => g.FromTipMm).Order()];
        Assert.Equal(0, fromTip[0]);
        List<(double X, double Y)> left = [.. rings];
        double lowest = double.MaxValue;
        for (int i = 0; i < fromTip.Length; i++)
        {
            int row = (int)(fromTip[i] / (width * scale));
            double x = (page.Width * MmPerPoint) - 15 - ((fromTip[i] - (row * width * scale)) / scale);
            (double X, double Y) ring = left.Where(r => Math.Abs(r.X - x) * scale < 0.5).MaxBy(r => r.Y);
            Assert.True(left.Remove(ring), $"no ring where the guide {fromTip[i]:0} mm from the tip must be");
            if (i > 0 && row > (int)(fromTip[i - 1] / (width * scale)))
                Assert.True(ring.Y < lowest, "a further row lies below the one before it");
            lowest = Math.Min(lowest, ring.Y);
        }

        // What stands lowest stands in the page's lowest fifth and over its margin of 15 mm. (Half of the page was empty once.)
        Assert.InRange(page.Letters.Min(l => l.BoundingBox.Bottom) * MmPerPoint, 14, 60);
        Assert.True(scale < layout.BlankLengthMm / width / 3, $"1 : {scale} is not as large as the page allows");
    }

    [Fact]
    public void AStationThatIsNotOnTheBlankIsRefused()
    {
        SheetLayout layout = new("x", 1000, [new SheetGuide("1", "running guide", 1200, null, null, null)]);
        Assert.Throws<ArgumentException>(() => MarkingTape.Draw(layout, SheetPaper.A4));
        Assert.Throws<ArgumentException>(() => LayoutSheet.Draw(layout with { Guides = [] }, SheetPaper.A4));
        Assert.Throws<ArgumentException>(() => MarkingTape.Draw(layout with { Guides = [layout.Guides[0] with { FromTipMm = double.NaN }] }, SheetPaper.A4));
    }

    /// <summary>Each strip by its words ("from 250 to 500 mm") and the frame right below them.</summary>
    private static IEnumerable<(double FromMm, double ToMm, PdfRectangle Frame)> Strips(Page page)
    {
        string text = string.Join(' ', page.GetWords().Select(w => w.Text));
        PdfRectangle[] frames = [.. page.Paths.Where(p => p.IsStroked).Select(p => p.GetBoundingRectangle())
            .Where(b => b is { } r && Math.Abs((r.Height * MmPerPoint) - 25) < 0.05 && r.Width > 20).Select(b => b!.Value).OrderByDescending(b => b.Top)];
        MatchCollection names = StripWords().Matches(text);
        Assert.Equal(frames.Length, names.Count);
        for (int i = 0; i < frames.Length; i++)
        {
            yield return (double.Parse(names[i].Groups[1].Value, CultureInfo.InvariantCulture),
                double.Parse(names[i].Groups[2].Value, CultureInfo.InvariantCulture), frames[i]);
        }
    }

    /// <summary>x of the heavy upright lines from a strip's lower to its upper edge (PdfPig gives widths in the page's own unit, mm here).</summary>
    private static IEnumerable<double> StationLines(Page page, PdfRectangle frame) => page.Paths
        .Where(p => p.IsStroked && (double)p.LineWidth > 0.4)
        .Select(p => p.GetBoundingRectangle())
        .Where(b => b is { } r && r.Width < 0.01 && Math.Abs(r.Top - frame.Top) < 0.1 && Math.Abs(r.Bottom - frame.Bottom) < 0.1)
        .Select(b => b!.Value.Left);

    [GeneratedRegex(@"from (\d+) to (\d+) mm")]
    private static partial Regex StripWords();

    [GeneratedRegex(@"scale 1 ?: ?(\d+(?:\.\d+)?)")]
    private static partial Regex ScaleWords();
}

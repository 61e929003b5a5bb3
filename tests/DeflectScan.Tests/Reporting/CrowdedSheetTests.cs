using DeflectScan.Geometry;
using DeflectScan.Reporting.Sheets;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;

namespace DeflectScan.Tests.Reporting;

/// <summary>Guides too near to one another for whole labels, read back by another library.</summary>
public class CrowdedSheetTests
{
    private static readonly SheetLayout Crowded = new(
        "Crowded", 1800,
        [
            new("1", "reduction guide", 900, null, 25, 40), new("2", "running guide", 412, null, null, null), new("3", "running guide", 406, null, null, null),
            new("4", "running guide", 400, null, null, null), new("5", "running guide", 120, null, 8, 7), new("T", "tip-top", 0, null, 7, null),
        ]);

    [Theory]
    [InlineData(LengthUnit.Millimetres)]
    [InlineData(LengthUnit.Inches)]
    public void NoLetterOfTheTapeLiesOnAnother(LengthUnit unit)
    {
        using PdfDocument pdf = PdfDocument.Open(MarkingTape.Draw(Crowded, SheetPaper.A4, unit));
        foreach (Page page in pdf.GetPages())
        {
            Letter[] letters = [.. page.Letters.Where(l => !string.IsNullOrWhiteSpace(l.Value))];
            for (int i = 0; i < letters.Length; i++)
            {
                for (int j = i + 1; j < letters.Length; j++)
                {
                    double across = Math.Min(letters[i].BoundingBox.Right, letters[j].BoundingBox.Right) - Math.Max(letters[i].BoundingBox.Left, letters[j].BoundingBox.Left);
                    double up = Math.Min(letters[i].BoundingBox.Top, letters[j].BoundingBox.Top) - Math.Max(letters[i].BoundingBox.Bottom, letters[j].BoundingBox.Bottom);
                    Assert.False(across > 0.4 && up > 0.4, $"{letters[i].Value} and {letters[j].Value} at {letters[i].Location}");
                }
            }
        }

        string words = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        foreach (string said in unit == LengthUnit.Millimetres ? ["412.0", "406.0", "400.0"] : new[] { "16 1/4", "15 3/4" })
            Assert.Contains(said, words, StringComparison.Ordinal);
    }

    [Fact]
    public void TheSheetSaysInchesFirstWhenAsked()
    {
        using PdfDocument pdf = PdfDocument.Open(LayoutSheet.Draw(Crowded, SheetPaper.Letter, LengthUnit.Inches));
        string words = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        Assert.Contains("height, in", words, StringComparison.Ordinal);
        Assert.True(words.IndexOf("from tip, in", StringComparison.Ordinal) >= 0, words);
    }

    /// <summary>Guide feet of 30 mm each way (common practice, no source): two at 6 mm cannot both be wrapped.</summary>
    [Fact]
    public void GuidesNearerThanTheirFeetAreWarnedAbout()
    {
        using PdfDocument pdf = PdfDocument.Open(LayoutSheet.Draw(Crowded, SheetPaper.A4));
        string words = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        Assert.Contains("Guides 2 and 3 and guides 3 and 4 stand nearer to each other than their feet are long", words, StringComparison.Ordinal);
        using PdfDocument roomy = PdfDocument.Open(LayoutSheet.Draw(Crowded with { Guides = [Crowded.Guides[0], Crowded.Guides[4], Crowded.Guides[5]] }, SheetPaper.A4));
        Assert.DoesNotContain("their feet", string.Join(' ', roomy.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text)), StringComparison.Ordinal);
    }

    [Fact]
    public void TheSheetIsDatedAndItsDrawingFillsThePage()
    {
        using PdfDocument pdf = PdfDocument.Open(LayoutSheet.Draw(Crowded, SheetPaper.A4, LengthUnit.Millimetres, new DateOnly(2026, 5, 2)));
        Page page = pdf.GetPage(1);
        Assert.Contains("2026-05-02", page.Text, StringComparison.Ordinal);

        // 1800 mm on 180 mm would be 1 : 10 in one row; in rows it is larger, and the page is not left half empty.
        string scale = System.Text.RegularExpressions.Regex.Match(page.Text, @"scale 1 ?: ?(?<scale>\d+)", System.Text.RegularExpressions.RegexOptions.ExplicitCapture, TimeSpan.FromSeconds(1)).Groups["scale"].Value;
        Assert.InRange(int.Parse(scale, System.Globalization.CultureInfo.InvariantCulture), 1, 5);
        double lowest = page.Letters.Min(l => l.BoundingBox.Bottom) / page.Height;
        Assert.InRange(lowest, 0.03, 0.3);
        Assert.All(page.Letters, l => Assert.True(l.BoundingBox.Left > 0 && l.BoundingBox.Right < page.Width, $"{l.Value} lies beside the page"));
    }
}

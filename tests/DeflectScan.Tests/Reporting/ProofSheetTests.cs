using DeflectScan.Desk;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Tests.Pipeline;
using UglyToad.PdfPig;

namespace DeflectScan.Tests.Reporting;

/// <summary>The page to fill in at the bench, read back by another library.</summary>
[Collection(Measured.Collection)]
public class ProofSheetTests
{
    [Theory]
    [InlineData(SheetPaper.A4, LengthUnit.Millimetres)]
    [InlineData(SheetPaper.Letter, LengthUnit.Inches)]
    public void OnePageAsksForEverythingAndTellsNothing(SheetPaper paper, LengthUnit unit)
    {
        MeasuredLayout rod = MeasuredLayout.Of(Measured.Photo("clean-spinning")).Value!;
        using PdfDocument pdf = PdfDocument.Open(ProofSheet.Draw(rod, "My rod", paper, "Then: type them in.", unit));
        UglyToad.PdfPig.Content.Page page = Assert.Single(pdf.GetPages());
        string words = string.Join(' ', page.GetWords().Select(w => w.Text));
        Assert.Contains("Proof at the bench: My rod", words, StringComparison.Ordinal);
        foreach (string asked in new[] { "to guide 1", "to guide 7", "6 to 7", "7 to tip-top", "at the ring of 1", "Do not touch the line", "eye protection", "three times" })
            Assert.Contains(asked, words, StringComparison.Ordinal);
        Assert.DoesNotContain("1223", words, StringComparison.Ordinal); // the photo's own figures would steer the hand
        Assert.DoesNotContain("33.5", words, StringComparison.Ordinal);
        Assert.All(page.Letters, l => Assert.True(l.BoundingBox.Left >= 0 && l.BoundingBox.Right <= page.Width && l.BoundingBox.Bottom >= 0 && l.BoundingBox.Top <= page.Height));
    }
}

using DeflectScan.Geometry;
using PdfSharp.Pdf;

namespace DeflectScan.Reporting.Sheets;

/// <summary>
/// A paper tape at 1:1 to cut out, join and lay along the blank from the tip: rulers, and a line with a name at each guide's station.
/// </summary>
public static class MarkingTape
{
    private const double MarginMm = 11;
    private const double HeadMm = 25.5;
    /// <summary>Tape beyond the farthest guide, mm: wanted, and least.</summary>
    private const double BeyondMm = 30;
    private const double LeastBeyondMm = 8;
    private const double BetweenStripsMm = 8;

    /// <summary>Mm of tape on one strip; the glue tab comes on top.</summary>
    public static double StripLengthMm(SheetPaper paper) => paper == SheetPaper.A4 ? 250 : 230;

    /// <summary>Draws the tape as a PDF file's bytes, from the tip to a little beyond the farthest guide.</summary>
    /// <exception cref="ArgumentException">No guide, or a station that is negative, not a number or beyond the blank.</exception>
    /// <param name="layout">What to print.</param>
    /// <param name="paper">On what.</param>
    /// <param name="unit">The unit that comes first at each guide; both rulers are always there.</param>
    public static byte[] Draw(SheetLayout layout, SheetPaper paper, LengthUnit unit = LengthUnit.Millimetres)
    {
        SheetChecks.Check(layout);
        double stripMm = StripLengthMm(paper);
        double farthestMm = layout.Guides.Max(g => g.FromTipMm);
        int strips = (int)Math.Ceiling((farthestMm + LeastBeyondMm) / stripMm);
        double endMm = Math.Min(farthestMm + BeyondMm, strips * stripMm);

        using PdfDocument document = SheetPage.Document($"Marking tape: {layout.Title}");
        int next = 0;
        while (next < strips)
        {
            using SheetPage page = new(document, paper, landscape: true);
            Head(page, layout);
            double y = MarginMm + HeadMm;
            for (; next < strips && y + TapeStrip.HeightMm <= page.HeightMm - MarginMm; next++)
            {
                double from = next * stripMm;
                new TapeStrip(next + 1, strips, from, Math.Min(from + stripMm, endMm)).Draw(page, MarginMm, y, layout.Guides, unit);
                y += TapeStrip.HeightMm + BetweenStripsMm;
            }
        }

        return SheetPage.Save(document);
    }

    private static void Head(SheetPage page, SheetLayout layout)
    {
        const double RuleMm = 100;
        double ruleX = page.WidthMm - MarginMm - RuleMm;
        page.Text(page.Fit($"Marking tape · {layout.Title}", 4.6, ruleX - MarginMm - 6, bold: true), MarginMm, MarginMm + 4, 4.6, bold: true);
        page.Text("Print at 100 % (actual size). Check the rule before cutting.", MarginMm, MarginMm + 9.5, 3.2);
        page.Text("Cut along the frames, join each strip's end line to the next strip's", MarginMm, MarginMm + 13.9, 3.2);
        page.Text("left edge over the tab, lay 0 beside the tip-top's ring.", MarginMm, MarginMm + 18.3, 3.2);
        double y = MarginMm + 8;
        page.Line(ruleX, y, ruleX + RuleMm, y, 0.25);
        for (int mm = 0; mm <= 100; mm++)
            page.Line(ruleX + mm, y, ruleX + mm, y - (mm % 50 == 0 ? 5 : mm % 10 == 0 ? 3.4 : mm % 5 == 0 ? 2.4 : 1.4), mm % 50 == 0 ? 0.25 : 0.12);
        page.Text("Check rule: exactly 100 mm long. If not, print again without scaling.", ruleX, y + 4.2, 3.0);
    }
}

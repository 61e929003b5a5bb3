using DeflectScan.Geometry;
using PdfSharp.Drawing;

namespace DeflectScan.Reporting.Sheets;

/// <summary>One strip of the marking tape: mm along its upper edge, inches along its lower one, guides between, a glue tab at its end.</summary>
/// <param name="Number">Counted from 1 at the tip.</param>
/// <param name="Count">Strips in all.</param>
/// <param name="FromMm">Station at its left edge.</param>
/// <param name="ToMm">Station at its end line.</param>
internal sealed record TapeStrip(int Number, int Count, double FromMm, double ToMm)
{
    public const double HeightMm = 25;

    /// <summary>Overlap on which the next strip is glued.</summary>
    public const double TabMm = 15;

    /// <summary>Line width of a guide's station, mm.</summary>
    public const double StationLineMm = 0.45;

    private static readonly XColor Quiet = XColor.FromArgb(90, 90, 90);

    private bool IsLast => Number == Count;

    /// <summary>Draws the strip with its left edge at x and its upper edge at y of the page, mm.</summary>
    public void Draw(SheetPage page, double x, double y, IReadOnlyList<SheetGuide> guides, LengthUnit unit = LengthUnit.Millimetres)
    {
        double length = ToMm - FromMm;
        double end = x + length;
        page.Text($"Strip {Number} of {Count}: from {FromMm:0} to {ToMm:0} mm from the tip", x, y - 1.3, 2.9, bold: true);
        if (!IsLast)
            Tab(page, end, y);
        double[] lines = [.. guides.Select(g => x + (g.FromTipMm - FromMm))];
        Millimetres(page, x, y, lines);
        Inches(page, x, y + HeightMm, lines);
        page.Rectangle(x, y, length + (IsLast ? 0 : TabMm), HeightMm, 0.25);
        if (lines.All(l => l < x - 0.5 || l > x + 8))
        {
            page.Text("tip", x + 1.2, y + 13.6, 2.6, colour: Quiet);
            Arrow(page, x + 1.2, y + 15.6, -1);
        }

        SheetGuide[] here = [.. guides.Where(g => g.FromTipMm >= FromMm && g.FromTipMm <= ToMm).OrderBy(g => g.FromTipMm)];
        foreach (SheetGuide g in here)
            page.Line(x + (g.FromTipMm - FromMm), y, x + (g.FromTipMm - FromMm), y + HeightMm, StationLineMm);
        foreach (TapeLabel label in TapeLabel.Arrange(page, [.. here.Select(g => (g, x + (g.FromTipMm - FromMm)))], x, end, unit))
            label.Draw(page, y);
    }

    private static void Arrow(SheetPage page, double x, double y, int way)
    {
        page.Line(x, y, x + 6, y, 0.2, colour: Quiet);
        double point = way < 0 ? x : x + 6;
        page.Polygon(Quiet, new XPoint(point, y), new XPoint(point - (way * 1.8), y - 0.8), new XPoint(point - (way * 1.8), y + 0.8));
    }

    private void Tab(SheetPage page, double end, double y)
    {
        page.Fill(end, y, TabMm, HeightMm, XColor.FromArgb(225, 225, 225));
        page.Line(end, y, end, y + HeightMm, 0.25, XDashStyle.Dash);
        page.TextCentred("glue", end + (TabMm / 2), y + 10.5, 2.8);
        page.TextCentred($"strip {Number + 1}", end + (TabMm / 2), y + 14.3, 2.8);
        page.TextCentred("here", end + (TabMm / 2), y + 18.1, 2.8);
    }

    private void Millimetres(SheetPage page, double x, double y, double[] lines)
    {
        for (int mm = (int)Math.Ceiling(FromMm); mm <= ToMm; mm++)
        {
            double at = x + (mm - FromMm);
            page.Line(at, y, at, y + (mm % 10 == 0 ? 4 : mm % 5 == 0 ? 3 : 1.9), mm % 10 == 0 ? 0.18 : 0.1);
            if (mm % 10 == 0 && mm > FromMm && mm < ToMm && Free(at, lines))
                page.TextCentred($"{mm}", at, y + 6.2, 2.1);
        }
    }

    /// <summary>Whether a ruler's figure would stand clear of every guide's line.</summary>
    private static bool Free(double at, double[] lines) => lines.All(l => Math.Abs(l - at) > 3.4);

    private void Inches(SheetPage page, double x, double y, double[] lines)
    {
        const int Parts = 16;
        const double StepMm = UnitsText.MmPerInch / Parts;
        for (int i = (int)Math.Ceiling((FromMm / StepMm) - 1e-9); i * StepMm <= ToMm; i++)
        {
            double at = x + ((i * StepMm) - FromMm);
            double tall = i % 16 == 0 ? 4 : i % 8 == 0 ? 3.2 : i % 4 == 0 ? 2.5 : i % 2 == 0 ? 1.9 : 1.3;
            page.Line(at, y, at, y - tall, i % 16 == 0 ? 0.18 : 0.1);
            if (i % 16 == 0 && at > x + 3 && at < x + (ToMm - FromMm) - 3 && Free(at, lines))
                page.TextCentred($"{i / Parts} in", at, y - 4.6, 2.1);
        }
    }
}

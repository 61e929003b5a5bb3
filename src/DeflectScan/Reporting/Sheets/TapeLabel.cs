using DeflectScan.Geometry;
using PdfSharp.Drawing;

namespace DeflectScan.Reporting.Sheets;

/// <summary>
/// The words beside a guide's line on the marking tape. Guides too near for whole labels have short ones in rows of their own; no label lies on another.
/// </summary>
/// <param name="Guide">The guide.</param>
/// <param name="X">The label's left edge.</param>
/// <param name="Width">Its width.</param>
/// <param name="Lines">What it says, in order.</param>
/// <param name="Row">Counted from 0 where labels are short, else null.</param>
internal sealed record TapeLabel(SheetGuide Guide, double X, double Width, IReadOnlyList<string> Lines, int? Row)
{
    private const double Beside = 1.2;
    private const double TopMm = 7.6;
    private const double RowMm = 3.4;
    private const double ShortSize = 2.6;
    private const int Rows = 3;

    /// <summary>Labels for the guides of one strip, from the tip on.</summary>
    public static IReadOnlyList<TapeLabel> Arrange(SheetPage page, IReadOnlyList<(SheetGuide Guide, double X)> guides, double left, double right, LengthUnit unit)
    {
        List<TapeLabel> labels = [];
        for (int i = 0; i < guides.Count; i++)
        {
            (SheetGuide g, double at) = guides[i];
            TapeLabel whole = Whole(page, g, at, right, unit);
            bool crowded = (i > 0 && at - guides[i - 1].X < whole.Width + (2 * Beside)) || (i + 1 < guides.Count && guides[i + 1].X - at < whole.Width + (2 * Beside));
            labels.Add(crowded ? Short(page, g, at, left, right, unit, labels) : whole);
        }

        return labels;
    }

    public void Draw(SheetPage page, double y)
    {
        if (Row is { } row)
        {
            double baseline = y + TopMm + 1.8 + (row * RowMm);
            page.Fill(X - 0.3, baseline - 2.4, Width + 0.6, 3.1, XColors.White);
            page.Text(Lines[0], X, baseline, ShortSize, bold: true);
            return;
        }

        double top = y + TopMm;
        page.Fill(X - 0.4, top - 0.6, Width + 0.8, 11, XColors.White);
        page.Text(Guide.Label, X, top + 3.4, 4.6, bold: true);
        page.Text(Lines[0], X + page.Width(Guide.Label, 4.6, bold: true) + Beside, top + 3.2, 2.3);
        page.Text(Lines[1], X, top + 6.9, 2.7, bold: true);
        page.Text(Lines[2], X, top + 10, 2.7);
    }

    private static TapeLabel Whole(SheetPage page, SheetGuide g, double at, double right, LengthUnit unit)
    {
        string detail = page.Fit(g.RingSizeMm is { } ring ? $"ring {ring:0.#}" : g.Kind, 2.3, 20);
        (string first, string second) = unit == LengthUnit.Millimetres
            ? (UnitsText.Millimetres(g.FromTipMm), UnitsText.Sixteenths(g.FromTipMm))
            : (UnitsText.Sixteenths(g.FromTipMm), UnitsText.Millimetres(g.FromTipMm));
        double width = Math.Max(page.Width(g.Label, 4.6, bold: true) + Beside + page.Width(detail, 2.3), Math.Max(page.Width(first, 2.7, bold: true), page.Width(second, 2.7)));
        bool leftOfLine = at + Beside + width > right;
        return new TapeLabel(g, leftOfLine ? at - Beside - width : at + Beside, width, [detail, first, second], null);
    }

    /// <summary>In the first row where it lies on no other label and on no other guide's: to the right of its line, else to its left.</summary>
    private static TapeLabel Short(SheetPage page, SheetGuide g, double at, double left, double right, LengthUnit unit, List<TapeLabel> others)
    {
        string text = $"{g.Label}: {(unit == LengthUnit.Millimetres ? $"{g.FromTipMm:0.0}" : UnitsText.Sixteenths(g.FromTipMm))}";
        double width = page.Width(text, ShortSize, bold: true);
        foreach (double x in (double[])[at + Beside, at - Beside - width])
        {
            for (int row = 0; row < Rows; row++)
            {
                if (x >= left && x + width <= right && others.TrueForAll(o => (o.Row is { } r && r != row) || x > o.X + o.Width + Beside || x + width < o.X - Beside))
                    return new TapeLabel(g, x, width, [text], row);
            }
        }

        // So crowded that only its number has room, on the line itself.
        double name = page.Width(g.Label, ShortSize, bold: true);
        return new TapeLabel(g, at - (name / 2), name, [g.Label], Rows);
    }
}

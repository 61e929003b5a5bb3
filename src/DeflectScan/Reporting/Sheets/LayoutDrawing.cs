using DeflectScan.Geometry;
using PdfSharp.Drawing;

namespace DeflectScan.Reporting.Sheets;

/// <summary>The straight blank with its guides, lengths and heights to one stated scale, the tip on the right.</summary>
internal sealed class LayoutDrawing
{
    private const double LabelRowMm = 4.2;
    private readonly SheetLayout _layout;
    private readonly double _widthMm;
    private readonly double _scale;
    private readonly LengthUnit _unit;

    public LayoutDrawing(SheetLayout layout, double widthMm, LengthUnit unit = LengthUnit.Millimetres)
    {
        _unit = unit;
        _layout = layout;
        _widthMm = widthMm;
        _scale = Math.Max(1, Math.Ceiling(layout.BlankLengthMm / widthMm)); // as large as the page, and still a whole number
    }

    /// <summary>Draws below y and gives the y of its lower edge, mm.</summary>
    public double Draw(SheetPage page, double left, double y)
    {
        page.Text($"Drawing to scale 1 : {_scale:0}", left, y, 3.2, bold: true);
        double tallest = _layout.Guides.Max(g => (g.HeightMm ?? 0) + ((g.RingSizeMm ?? 8) / 2)) / _scale;
        double axis = y + 6 + tallest;
        double X(double fromTip) => left + ((_layout.BlankLengthMm - fromTip) / _scale);

        // The blank's own taper is not known here: a plain wedge shows which end is the butt.
        page.Polygon(
            XColor.FromArgb(120, 120, 120),
            new XPoint(X(_layout.BlankLengthMm), axis - 0.55), new XPoint(X(0), axis - 0.12), new XPoint(X(0), axis + 0.12), new XPoint(X(_layout.BlankLengthMm), axis + 0.55));
        List<double> rowEnds = [];
        foreach (SheetGuide g in _layout.Guides.OrderBy(g => g.FromTipMm))
        {
            double x = X(g.FromTipMm);
            double height = (g.HeightMm ?? 0) / _scale;
            if (height > 0)
                page.Line(x, axis, x, axis - height, 0.18);
            page.Circle(x, axis - height, Math.Max(0.35, (g.RingSizeMm ?? 8) / 2 / _scale), 0.2);
            Label(page, g, x, axis, rowEnds);
        }

        (double bar, string barWords) = _unit == LengthUnit.Millimetres ? (500, "500 mm") : (20 * UnitsText.MmPerInch, "20 in");
        double below = axis + 5 + (rowEnds.Count * LabelRowMm);
        page.Line(left, below, left + (bar / _scale), below, 0.3);
        page.Line(left, below - 1, left, below + 1, 0.3);
        page.Line(left + (bar / _scale), below - 1, left + (bar / _scale), below + 1, 0.3);
        page.Text(barWords, left + (bar / _scale) + 1.5, below + 1, 2.8);
        page.TextRight("butt on the left, tip on the right", left + _widthMm, below + 1, 2.8);
        return below + 3;
    }

    /// <summary>Name and station under the blank, in the first row that has room (tip first, so rows fill leftwards).</summary>
    private void Label(SheetPage page, SheetGuide g, double x, double axis, List<double> rowEnds)
    {
        string text = $"{g.Label}: {(_unit == LengthUnit.Millimetres ? $"{g.FromTipMm:0}" : UnitsText.Sixteenths(g.FromTipMm))}";
        double half = page.Width(text, 2.6) / 2;
        int row = rowEnds.FindIndex(end => x + half + 1 <= end);
        if (row < 0)
        {
            row = rowEnds.Count;
            rowEnds.Add(0);
        }

        rowEnds[row] = x - half;
        double y = axis + 4.6 + (row * LabelRowMm);
        page.Line(x, axis + 0.8, x, y - 2.4, 0.1, colour: XColor.FromArgb(140, 140, 140));
        page.TextCentred(text, x, y, 2.6);
    }
}

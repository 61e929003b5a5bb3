using DeflectScan.Geometry;
using PdfSharp.Drawing;

namespace DeflectScan.Reporting.Sheets;

/// <summary>
/// The straight blank with its guides, lengths and heights to one stated scale, as large as its place allows: in rows, one below the other, the tip at the
/// right of the first. In each row the tip's end is on the right.
/// </summary>
internal sealed class LayoutDrawing
{
    private const double LabelRowMm = 4.2;
    private const double LabelSizeMm = 2.6;
    private const double HeadMm = 6;
    private const double FootMm = 8;

    /// <summary>More rows than this are hard to read as one rod.</summary>
    private const int MostRows = 6;

    private static readonly double[] Scales = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 7.5, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 150];

    private readonly SheetLayout _layout;
    private readonly double _widthMm;
    private readonly LengthUnit _unit;

    public LayoutDrawing(SheetLayout layout, double widthMm, LengthUnit unit = LengthUnit.Millimetres)
    {
        _unit = unit;
        _layout = layout;
        _widthMm = widthMm;
    }

    /// <summary>Draws below y and gives the y of its lower edge, mm.</summary>
    /// <param name="page">Where.</param>
    /// <param name="left">Its left edge.</param>
    /// <param name="y">Its upper edge.</param>
    /// <param name="roomMm">How high it may be; one row is drawn in any case.</param>
    public double Draw(SheetPage page, double left, double y, double roomMm)
    {
        Plan plan = Scales.Where(s => _layout.BlankLengthMm <= MostRows * _widthMm * s).Select(s => Planned(page, s)).First(p => p.Rows.Count == 1 || p.HeightMm <= roomMm);
        page.Text($"Drawing to scale 1 : {plan.Scale:0.#}", left, y, 3.2, bold: true);
        string where = plan.Rows.Count == 1 ? "butt on the left, tip on the right" : "tip at the upper right; each row goes on from the left end of the one above";
        page.TextRight(where, left + _widthMm, y, 2.8);
        foreach (Row row in plan.Rows)
        {
            double axis = y + HeadMm + row.TallestMm;
            Draw(page, plan, row, left, y, axis);
            y = axis + row.BelowMm;
        }

        (double bar, string barWords) = Bar(plan.Scale);
        double below = y + 5;
        page.Line(left, below, left + (bar / plan.Scale), below, 0.3);
        page.Line(left, below - 1, left, below + 1, 0.3);
        page.Line(left + (bar / plan.Scale), below - 1, left + (bar / plan.Scale), below + 1, 0.3);
        page.Text(barWords, left + (bar / plan.Scale) + 1.5, below + 1, 2.8);
        return below + 3;
    }

    /// <summary>A round length whose bar is at most half as long as the drawing is wide.</summary>
    private (double Mm, string Words) Bar(double scale)
    {
        bool inches = _unit == LengthUnit.Inches;
        double unit = inches ? UnitsText.MmPerInch : 1;
        double[] round = inches ? [20, 10, 5, 2] : [500, 200, 100, 50];
        double length = round.FirstOrDefault(l => l * unit / scale <= _widthMm / 2, round[^1]);
        return (length * unit, $"{length:0} {UnitsInSentences.Name(_unit)}");
    }

    private void Draw(SheetPage page, Plan plan, Row row, double left, double top, double axis)
    {
        double X(double fromTip) => left + _widthMm - ((fromTip - row.FromMm) / plan.Scale);

        // The blank's own taper is not known here: a plain wedge shows which end is the butt.
        double Half(double fromTip) => 0.12 + (0.43 * fromTip / _layout.BlankLengthMm);
        page.Polygon(
            XColor.FromArgb(120, 120, 120),
            new XPoint(X(row.ToMm), axis - Half(row.ToMm)), new XPoint(X(row.FromMm), axis - Half(row.FromMm)),
            new XPoint(X(row.FromMm), axis + Half(row.FromMm)), new XPoint(X(row.ToMm), axis + Half(row.ToMm)));
        if (plan.Rows.Count > 1)
        {
            if (row.FromMm > 0)
                page.TextRight($"from {Station(row.FromMm)}", left + _widthMm, top + 3, LabelSizeMm);
            if (row.ToMm < _layout.BlankLengthMm)
                page.Text(row == plan.Rows[^1] ? $"to {Station(row.ToMm)}; no guide beyond" : $"to {Station(row.ToMm)}", left, top + (row.FromMm > 0 ? 3 : 5), LabelSizeMm);
        }

        foreach ((SheetGuide g, int labelRow) in row.Guides)
        {
            double x = X(g.FromTipMm);
            double height = Height(g) / plan.Scale;
            if (height > 0)
                page.Line(x, axis, x, axis - height, 0.18);
            page.Circle(x, axis - height, Math.Max(0.35, Radius(g) / plan.Scale), 0.2);
            double y = axis + 4.6 + (labelRow * LabelRowMm);
            page.Line(x, axis + 0.8, x, y - 2.4, 0.1, colour: XColor.FromArgb(140, 140, 140));
            page.TextCentred(Label(g), Middle(page, g, x - left) + left, y, LabelSizeMm);
        }
    }

    private static double Radius(SheetGuide g) => (g.RingSizeMm ?? 8) / 2;

    /// <summary>Of the ring's centre; where it is not known the ring stands on the blank.</summary>
    private static double Height(SheetGuide g) => g.HeightMm ?? Radius(g);

    /// <summary>
    /// The drawing to a scale: each guide in its row, its label in the first line under it that has room. Rows towards the butt that hold no guide are left out.
    /// </summary>
    private Plan Planned(SheetPage page, double scale)
    {
        double span = _widthMm * scale;
        int rows = Math.Min((int)Math.Ceiling(_layout.BlankLengthMm / span), 1 + (int)(_layout.Guides.Max(g => g.FromTipMm) / span));
        return new Plan(scale, [.. Enumerable.Range(0, rows).Select(r => Laid(page, scale, r * span, Math.Min((r + 1) * span, _layout.BlankLengthMm), isLast: r == rows - 1))]);
    }

    private Row Laid(SheetPage page, double scale, double from, double to, bool isLast)
    {
        List<(SheetGuide, int)> guides = [];
        List<double> ends = [];
        foreach (SheetGuide g in _layout.Guides.Where(g => g.FromTipMm >= from && (g.FromTipMm < to || isLast)).OrderBy(g => g.FromTipMm))
        {
            double middle = Middle(page, g, _widthMm - ((g.FromTipMm - from) / scale));
            double half = page.Width(Label(g), LabelSizeMm) / 2;
            int row = ends.FindIndex(end => middle + half + 1 <= end);
            if (row < 0)
            {
                row = ends.Count;
                ends.Add(0);
            }

            ends[row] = middle - half;
            guides.Add((g, row));
        }

        double tallest = guides.Count == 0 ? 0 : guides.Max(g => Height(g.Item1) + Radius(g.Item1)) / scale;
        return new Row(from, to, guides, tallest, 5 + (ends.Count * LabelRowMm));
    }

    /// <summary>Where a label's middle stands, from the drawing's left edge: over its guide, but not beyond the drawing.</summary>
    private double Middle(SheetPage page, SheetGuide g, double x)
    {
        double half = page.Width(Label(g), LabelSizeMm) / 2;
        return Math.Clamp(x, Math.Min(half, _widthMm / 2), Math.Max(_widthMm - half, _widthMm / 2));
    }

    private string Label(SheetGuide g) => $"{g.Label}: {(_unit == LengthUnit.Millimetres ? $"{g.FromTipMm:0}" : UnitsText.Sixteenths(g.FromTipMm))}";

    private string Station(double mm) => _unit == LengthUnit.Millimetres ? $"{mm:0} mm" : $"{UnitsInSentences.Bare(mm, _unit)} in";

    /// <summary>The drawing as it will be.</summary>
    private sealed record Plan(double Scale, IReadOnlyList<Row> Rows)
    {
        public double HeightMm => Rows.Sum(r => HeadMm + r.TallestMm + r.BelowMm) + FootMm;
    }

    /// <summary>A row: stations from its right to its left end, its guides with the lines of their labels, what it takes above and below the axis.</summary>
    private sealed record Row(double FromMm, double ToMm, IReadOnlyList<(SheetGuide Guide, int LabelRow)> Guides, double TallestMm, double BelowMm);
}

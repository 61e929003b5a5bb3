using DeflectScan.Reporting.Drawing;
using DeflectScan.Reporting.Sheets;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace DeflectScan.Records.Reports;

/// <summary>Lays one thing under the other on pages of a PDF and turns the page where it does not fit any more. Lengths in mm.</summary>
internal sealed class SheetFlow : IDisposable
{
    private const double MarginMm = 15;
    private const double Leading = 1.35;
    private const double CellSize = 3.1;
    private const double CellMm = 5.2;
    private static readonly XColor Shade = XColor.FromArgb(238, 238, 238);
    private static readonly XColor Grey = XColor.FromArgb(90, 90, 90);
    private readonly PdfDocument _document;
    private readonly SheetPaper _paper;
    private readonly string _name;
    private SheetPage _page;
    private double _y = MarginMm;
    private int _number = 1;

    /// <param name="document">Where pages are added.</param>
    /// <param name="paper">Their size.</param>
    /// <param name="name">Stands at the foot of every page with its number.</param>
    public SheetFlow(PdfDocument document, SheetPaper paper, string name)
    {
        (_document, _paper, _name) = (document, paper, name.ReplaceLineEndings(" "));
        _page = new SheetPage(document, paper, landscape: false);
        Foot();
    }

    private double Width => _page.WidthMm - (2 * MarginMm);

    private double Bottom => _page.HeightMm - MarginMm - 4;

    public void Dispose() => _page.Dispose();

    public void Space(double mm) => _y += mm;

    /// <summary>A heading that stays with at least some lines of what follows.</summary>
    public void Title(string text)
    {
        Room(22);
        _y += 2;
        Words(text, 3.8, bold: true);
    }

    /// <summary>A paragraph; it may be longer than a page.</summary>
    public void Words(string text, double size, bool bold = false) => Lines(text, 0, size, bold);

    /// <summary>A fact beside its name.</summary>
    public void Fact(string name, string text)
    {
        const double NameMm = 24;
        const double Size = 3.5;
        Room(Size * Leading);
        _page.Text(name, MarginMm, _y + Size, Size, bold: true);
        Lines(text, NameMm, Size, bold: false);
        _y -= 1;
    }

    /// <summary>A picture as wide as the page, or as high as stated.</summary>
    public void Picture(ReportPicture picture, double mostMm)
    {
        double scale = Math.Min(Width / picture.WidthPx, mostMm / picture.HeightPx);
        (double width, double height) = (picture.WidthPx * scale, picture.HeightPx * scale);
        Room(height + 3);
        _page.Picture(picture.Jpeg, MarginMm + ((Width - width) / 2), _y + 1, width, height);
        _y += height + 3;
    }

    /// <summary>The layout to scale, in rows where that fits into a third of a page.</summary>
    public void Drawing(string title, SheetLayout layout)
    {
        const double DrawingMm = 90;
        Room(DrawingMm + 16);
        Title($"Drawing of the {title}");
        _y = new LayoutDrawing(layout, Width).Draw(_page, MarginMm, _y + 4, DrawingMm) + 6;
    }

    /// <summary>A table whose columns are as wide as what they hold, whose long texts wrap, and whose head comes again on every page.</summary>
    public void Table(SheetTable table)
    {
        double[] widths = ColumnWidths(table);
        Room(Math.Min(table.Rows.Sum(r => RowHeight(r, widths)) + CellMm + 18, Bottom / 2));
        Title(table.Title);
        if (table.Note is { } note)
            Words(note, 3.2);
        Row(table.Heads, widths, bold: true, shaded: false);
        for (int i = 0; i < table.Rows.Count; i++)
        {
            if (Room(RowHeight(table.Rows[i], widths)))
                Row(table.Heads, widths, bold: true, shaded: false);
            Row(table.Rows[i], widths, bold: false, shaded: i % 2 == 0);
        }

        _y += 2;
    }

    private void Row(IReadOnlyList<string> cells, double[] widths, bool bold, bool shaded)
    {
        double height = RowHeight(cells, widths);
        if (shaded)
            _page.Fill(MarginMm, _y, Width, height, Shade);
        double x = MarginMm;
        for (int c = 0; c < cells.Count; c++)
        {
            double y = _y + (CellMm * 0.68);
            foreach (string line in Wrapped(cells[c], CellSize, widths[c] - 2, bold))
            {
                _page.Text(line, x + 1, y, CellSize, bold);
                y += CellSize * Leading;
            }

            x += widths[c];
        }

        _y += height;
        if (bold)
            _page.Line(MarginMm, _y, MarginMm + Width, _y, 0.3);
    }

    private double RowHeight(IReadOnlyList<string> cells, double[] widths) =>
        CellMm + ((cells.Select((c, i) => Wrapped(c, CellSize, widths[i] - 2, bold: false).Count).Max() - 1) * CellSize * Leading);

    private double[] ColumnWidths(SheetTable table)
    {
        const double WidestMm = 62;
        double[] widths = [.. table.Heads.Select((head, c) => Math.Min(WidestMm, 3 + Math.Max(
            _page.Width(head, CellSize, bold: true), table.Rows.Select(r => _page.Width(r[c], CellSize)).DefaultIfEmpty(0).Max())))];
        double rest = Width - widths.Sum();
        return [.. widths.Select(w => rest >= 0 ? w + (rest / widths.Length) : w * Width / widths.Sum())];
    }

    private void Lines(string text, double indent, double size, bool bold)
    {
        foreach (string line in Wrapped(text, size, Width - indent, bold))
        {
            Room(size * Leading);
            _page.Text(line, MarginMm + indent, _y + size, size, bold);
            _y += size * Leading;
        }

        _y += 1;
    }

    /// <summary>Lines no wider than stated: broken between words, and within one that is wider by itself.</summary>
    private List<string> Wrapped(string text, double size, double width, bool bold)
    {
        List<string> lines = [];
        foreach (string paragraph in text.Split('\n'))
        {
            string line = "";
            foreach (string word in paragraph.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            {
                string longer = line.Length == 0 ? word : $"{line} {word}";
                if (_page.Width(longer, size, bold) > width && line.Length > 0)
                {
                    lines.Add(line);
                    longer = word;
                }

                while (longer.Length > 1 && _page.Width(longer, size, bold) > width)
                {
                    int keep = longer.Length - 1;
                    while (keep > 1 && _page.Width(longer[..keep], size, bold) > width)
                        keep--;
                    keep -= char.IsHighSurrogate(longer[keep - 1]) && keep > 1 ? 1 : 0;
                    lines.Add(longer[..keep]);
                    longer = longer[keep..];
                }

                line = longer;
            }

            lines.Add(line);
        }

        return lines;
    }

    /// <summary>Turns the page where a height does not fit any more; true if it did.</summary>
    private bool Room(double heightMm)
    {
        if (_y + heightMm <= Bottom || _y <= MarginMm)
            return false;
        _page.Dispose();
        _page = new SheetPage(_document, _paper, landscape: false);
        (_y, _number) = (MarginMm, _number + 1);
        Foot();
        return true;
    }

    private void Foot()
    {
        _page.Text(_page.Fit(_name, 2.8, Width - 30), MarginMm, _page.HeightMm - 10, 2.8, colour: Grey);
        _page.TextRight($"page {_number}", MarginMm + Width, _page.HeightMm - 10, 2.8);
    }
}

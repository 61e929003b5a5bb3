using DeflectScan.Reporting.Fonts;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace DeflectScan.Reporting.Sheets;

/// <summary>One printed page in millimetres, origin at its upper left corner, y down: lines, words and shapes as vectors.</summary>
internal sealed class SheetPage : IDisposable
{
    private static readonly XStringFormat Left = new() { Alignment = XStringAlignment.Near, LineAlignment = XLineAlignment.BaseLine };
    private readonly XGraphics _graphics;

    public SheetPage(PdfDocument document, SheetPaper paper, bool landscape)
    {
        (double shortMm, double longMm) = paper == SheetPaper.A4 ? (210.0, 297.0) : (215.9, 279.4);
        (WidthMm, HeightMm) = landscape ? (longMm, shortMm) : (shortMm, longMm);
        _graphics = Begin(document);
    }

    /// <summary>A page of any size, mm: a wall's.</summary>
    public SheetPage(PdfDocument document, double widthMm, double heightMm)
    {
        (WidthMm, HeightMm) = (widthMm, heightMm);
        _graphics = Begin(document);
    }

    private XGraphics Begin(PdfDocument document)
    {
        PdfPage page = document.AddPage();
        page.Width = XUnit.FromMillimeter(WidthMm);
        page.Height = XUnit.FromMillimeter(HeightMm);
        return XGraphics.FromPdfPage(page, XGraphicsUnit.Millimeter);
    }

    public double WidthMm { get; }

    public double HeightMm { get; }

    /// <summary>A new document with the embedded font at hand.</summary>
    public static PdfDocument Document(string title)
    {
        PdfFonts.Register();
        PdfDocument document = new();
        document.Info.Title = title;
        document.Info.Creator = "deflectscan";
        return document;
    }

    /// <summary>The finished file's bytes.</summary>
    public static byte[] Save(PdfDocument document)
    {
        using MemoryStream file = new();
        document.Save(file, closeStream: false);
        return file.ToArray();
    }

    public void Line(double x1, double y1, double x2, double y2, double widthMm = 0.15, XDashStyle dash = XDashStyle.Solid, XColor? colour = null) =>
        _graphics.DrawLine(new XPen(colour ?? XColors.Black, widthMm) { DashStyle = dash }, x1, y1, x2, y2);

    public void Rectangle(double x, double y, double width, double height, double lineMm = 0.2) =>
        _graphics.DrawRectangle(new XPen(XColors.Black, lineMm), x, y, width, height);

    public void Fill(double x, double y, double width, double height, XColor colour) =>
        _graphics.DrawRectangle(new XSolidBrush(colour), x, y, width, height);

    public void Circle(double x, double y, double radius, double lineMm, XColor? colour = null, XColor? fill = null)
    {
        XPen pen = new(colour ?? XColors.Black, lineMm);
        if (fill is { } ground)
            _graphics.DrawEllipse(pen, new XSolidBrush(ground), x - radius, y - radius, 2 * radius, 2 * radius);
        else
            _graphics.DrawEllipse(pen, x - radius, y - radius, 2 * radius, 2 * radius);
    }

    public void Polyline(IReadOnlyList<(double X, double Y)> points, double widthMm, XColor colour, XDashStyle dash = XDashStyle.Solid) =>
        _graphics.DrawLines(new XPen(colour, widthMm) { DashStyle = dash, LineJoin = XLineJoin.Round }, [.. points.Select(p => new XPoint(p.X, p.Y))]);

    public void Polygon(XColor colour, params XPoint[] corners) =>
        _graphics.DrawPolygon(new XSolidBrush(colour), corners, XFillMode.Winding);

    /// <summary>Words with their left end and baseline at a point; size in mm from line to line.</summary>
    public void Text(string text, double x, double y, double size, bool bold = false, XColor? colour = null) =>
        _graphics.DrawString(text, Font(size, bold), new XSolidBrush(colour ?? XColors.Black), x, y, Left);

    public void TextRight(string text, double x, double y, double size, bool bold = false) =>
        Text(text, x - Width(text, size, bold), y, size, bold);

    public void TextCentred(string text, double x, double y, double size, bool bold = false, XColor? colour = null) =>
        Text(text, x - (Width(text, size, bold) / 2), y, size, bold, colour);

    /// <summary>A JPEG or PNG picture with its upper left corner at a point.</summary>
    public void Picture(byte[] file, double x, double y, double width, double height)
    {
        using MemoryStream stream = new(file);
        using XImage image = XImage.FromStream(stream);
        _graphics.DrawImage(image, x, y, width, height);
    }

    public double Width(string text, double size, bool bold = false) => _graphics.MeasureString(text, Font(size, bold)).Width;

    /// <summary>Words wrapped to a width; gives the baseline after the last line.</summary>
    public double Paragraph(string text, double x, double y, double size, double widthMm)
    {
        string line = "";
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : $"{line} {word}";
            if (line.Length > 0 && Width(longer, size) > widthMm)
            {
                Text(line, x, y, size);
                y += size * 1.35;
                longer = word;
            }

            line = longer;
        }

        Text(line, x, y, size);
        return y + (size * 1.35);
    }

    /// <summary>Cuts a text with an ellipsis where it is wider than there is room for.</summary>
    public string Fit(string text, double size, double widthMm, bool bold = false)
    {
        if (Width(text, size, bold) <= widthMm)
            return text;
        int keep = text.Length;
        while (keep > 0 && Width(text[..keep] + "…", size, bold) > widthMm)
            keep--;
        return text[..keep] + "…";
    }

    public void Dispose() => _graphics.Dispose();

    private static XFont Font(double size, bool bold) =>
        new(EmbeddedFont.Family, size, bold ? XFontStyleEx.Bold : XFontStyleEx.Regular);
}

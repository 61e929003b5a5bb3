using DeflectScan.Reporting.Sheets;
using PdfSharp.Drawing;

namespace DeflectScan.Reporting.Boards;

/// <summary>A sketch on a printed page, as vectors.</summary>
internal static class SketchPrint
{
    /// <param name="page">Where.</param>
    /// <param name="sketch">The drawing.</param>
    /// <param name="left">Its left edge, mm.</param>
    /// <param name="top">Its upper edge, mm.</param>
    /// <param name="mmPerUnit">mm of one of its units.</param>
    public static void Draw(SheetPage page, Sketch sketch, double left, double top, double mmPerUnit)
    {
        double X(double x) => left + (x * mmPerUnit);
        double Y(double y) => top + (y * mmPerUnit);
        foreach (Mark mark in sketch.Marks)
        {
            switch (mark)
            {
                case StrokeMark s:
                    page.Polyline([.. s.Points.Select(p => (X(p.X), Y(p.Y)))], s.Width * mmPerUnit, Colour(s.Tone), s.IsDashed ? XDashStyle.Dash : XDashStyle.Solid);
                    break;
                case BoxMark b:
                    page.Fill(X(b.X), Y(b.Y), b.Width * mmPerUnit, b.Height * mmPerUnit, Colour(b.Tone));
                    break;
                case DotMark d:
                    page.Circle(X(d.X), Y(d.Y), d.Radius * mmPerUnit, d.Width * mmPerUnit, Colour(d.Tone), d.Fill is { } fill ? Colour(fill) : null);
                    break;
                case WordsMark w:
                    double size = w.Size * mmPerUnit;
                    double width = w.Anchor == Anchor.Left ? 0 : page.Width(w.Text, size, w.IsBold);
                    page.Text(w.Text, X(w.X) - (w.Anchor switch { Anchor.Middle => width / 2, Anchor.Right => width, _ => 0 }), Y(w.Y), size, w.IsBold, Colour(w.Tone));
                    break;
            }
        }
    }

    private static XColor Colour(Tone tone)
    {
        string hex = Sketch.Hex(tone);
        return XColor.FromArgb(Convert.ToInt32(hex[1..3], 16), Convert.ToInt32(hex[3..5], 16), Convert.ToInt32(hex[5..7], 16));
    }
}

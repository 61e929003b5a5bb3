using DeflectScan.Geometry;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;
using SkiaSharp;

namespace DeflectScan.Reporting.Boards;

/// <summary>A sketch as a picture's pixels.</summary>
internal static class SketchPicture
{
    private static readonly float[] Dash = [4, 3];

    /// <summary>A PNG file's bytes; the same sketch gives the same bytes.</summary>
    /// <param name="sketch">The drawing.</param>
    /// <param name="pxPerUnit">Pixels of one of its units.</param>
    public static byte[] Png(Sketch sketch, float pxPerUnit)
    {
        using Picture picture = new((int)Math.Ceiling(sketch.Width * pxPerUnit), (int)Math.Ceiling(sketch.Height * pxPerUnit));
        Brush brush = new(picture.Brush.Canvas, pxPerUnit);
        brush.Canvas.Clear(Colour(Tone.Ground));
        foreach (Mark mark in sketch.Marks)
            Draw(brush, mark);
        return picture.ToPng();
    }

    private static void Draw(Brush brush, Mark mark)
    {
        float u = brush.Unit;
        switch (mark)
        {
            case StrokeMark s:
                brush.Polyline([.. s.Points.Select(p => (p * u).ToSk())], Colour(s.Tone), (float)s.Width, s.IsDashed ? Dash : null, halo: 0);
                break;
            case BoxMark b:
                brush.Box(new SKRect((float)b.X * u, (float)b.Y * u, (float)(b.X + b.Width) * u, (float)(b.Y + b.Height) * u), Colour(b.Tone), 0);
                break;
            case DotMark d:
                if (d.Fill is { } fill)
                    brush.Box(new SKRect((float)(d.X - d.Radius) * u, (float)(d.Y - d.Radius) * u, (float)(d.X + d.Radius) * u, (float)(d.Y + d.Radius) * u), Colour(fill), (float)d.Radius);
                brush.Circle(new SKPoint((float)d.X * u, (float)d.Y * u), (float)d.Radius, Colour(d.Tone), (float)d.Width, halo: 0);
                break;
            case WordsMark w:
                float width = brush.Width(w.Text, (float)w.Size, w.IsBold);
                float x = ((float)w.X * u) - (w.Anchor switch { Anchor.Middle => width / 2, Anchor.Right => width, _ => 0 });
                brush.Text(w.Text, new SKPoint(x, (float)w.Y * u), (float)w.Size, Colour(w.Tone), w.IsBold);
                break;
        }
    }

    private static SKColor Colour(Tone tone) => SKColor.Parse(Sketch.Hex(tone));
}

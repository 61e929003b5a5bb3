using SkiaSharp;

namespace DeflectScan.Reporting.Drawing;

/// <summary>
/// Draws on one canvas with sizes in units of a thousandth of the picture's width, so that a picture reads the same at any size.
/// Strokes carry a halo of the opposite lightness, so that they read on any background.
/// </summary>
internal sealed class Brush(SKCanvas canvas, float unitPx)
{
    /// <summary>Px of one unit (a thousandth of the picture's width).</summary>
    public float Unit { get; } = unitPx;

    public SKCanvas Canvas { get; } = canvas;

    /// <summary>A stroke with its halo.</summary>
    /// <param name="path">In canvas px.</param>
    /// <param name="colour">Of the stroke.</param>
    /// <param name="width">In units.</param>
    /// <param name="dash">On and off lengths in units; null for a whole stroke.</param>
    /// <param name="halo">Width of the halo on each side, in units; 0 for none.</param>
    public void Stroke(SKPath path, SKColor colour, float width, float[]? dash = null, float halo = 0.9f)
    {
        using SKPathEffect? effect = dash is null ? null : SKPathEffect.CreateDash([.. dash.Select(d => d * Unit)], 0);
        using SKPaint paint = new() { IsAntialias = true, Style = SKPaintStyle.Stroke, StrokeJoin = SKStrokeJoin.Round, PathEffect = effect };
        if (halo > 0)
        {
            // A halo that ends with its dash: butt caps, so that the blank shows through the pauses.
            paint.Color = Palette.Against(colour).WithAlpha(190);
            paint.StrokeWidth = (width + (2 * halo)) * Unit;
            Canvas.DrawPath(path, paint);
        }

        paint.Color = colour;
        paint.StrokeWidth = width * Unit;
        Canvas.DrawPath(path, paint);
    }

    public void Polyline(IReadOnlyList<SKPoint> points, SKColor colour, float width, float[]? dash = null, float halo = 0.9f)
    {
        if (points.Count < 2)
            return;
        using SKPathBuilder builder = new();
        builder.AddPoly([.. points], close: false);
        using SKPath path = builder.Detach();
        Stroke(path, colour, width, dash, halo);
    }

    public void Segment(SKPoint a, SKPoint b, SKColor colour, float width, float[]? dash = null, float halo = 0.9f) =>
        Polyline([a, b], colour, width, dash, halo);

    public void Circle(SKPoint centre, float radius, SKColor colour, float width, float[]? dash = null, float halo = 0.9f)
    {
        using SKPathBuilder builder = new();
        builder.AddCircle(centre.X, centre.Y, radius * Unit, SKPathDirection.Clockwise);
        using SKPath path = builder.Detach();
        Stroke(path, colour, width, dash, halo);
    }

    public void Polygon(IReadOnlyList<SKPoint> corners, SKColor fill)
    {
        using SKPathBuilder builder = new();
        builder.AddPoly([.. corners], close: true);
        using SKPath path = builder.Detach();
        using SKPaint paint = new() { IsAntialias = true, Color = fill };
        Canvas.DrawPath(path, paint);
    }

    public void Outline(IReadOnlyList<SKPoint> corners, SKColor colour, float width, float[]? dash = null, float halo = 0.9f)
    {
        using SKPathBuilder builder = new();
        builder.AddPoly([.. corners], close: true);
        using SKPath path = builder.Detach();
        Stroke(path, colour, width, dash, halo);
    }

    /// <summary>A filled box with round corners, and a thin edge where <paramref name="edge"/> is given.</summary>
    public void Box(SKRect box, SKColor fill, float cornerRadius, SKColor? edge = null, float edgeWidth = 1)
    {
        using SKPaint paint = new() { IsAntialias = true, Color = fill };
        Canvas.DrawRoundRect(box, cornerRadius * Unit, cornerRadius * Unit, paint);
        if (edge is not { } colour)
            return;
        paint.Style = SKPaintStyle.Stroke;
        paint.StrokeWidth = edgeWidth * Unit;
        paint.Color = colour;
        Canvas.DrawRoundRect(box, cornerRadius * Unit, cornerRadius * Unit, paint);
    }

    /// <summary>An arrowhead whose point is at <paramref name="tip"/>, looking along <paramref name="direction"/> (unit vector).</summary>
    public void ArrowHead(SKPoint tip, SKPoint direction, float size, SKColor fill)
    {
        float s = size * Unit;
        SKPoint back = new(tip.X - (direction.X * s), tip.Y - (direction.Y * s));
        SKPoint side = new(-direction.Y * s * 0.5f, direction.X * s * 0.5f);
        Outline([tip, back + side, back - side], Palette.Against(fill), 0.6f, halo: 0);
        Polygon([tip, back + side, back - side], fill);
    }

    /// <summary>Text with its left end and baseline at <paramref name="at"/>; the halo is for text that lies on a photo.</summary>
    public void Text(string text, SKPoint at, float size, SKColor colour, bool bold = false, bool halo = false)
    {
        using SKFont font = Typefaces.Font(size * Unit, bold);
        using SKPaint paint = new() { IsAntialias = true };
        if (halo)
        {
            paint.Style = SKPaintStyle.Stroke;
            paint.StrokeJoin = SKStrokeJoin.Round;
            paint.StrokeWidth = size * Unit * 0.18f;
            paint.Color = Palette.Against(colour).WithAlpha(220);
            Canvas.DrawText(text, at, SKTextAlign.Left, font, paint);
            paint.Style = SKPaintStyle.Fill;
        }

        paint.Color = colour;
        Canvas.DrawText(text, at, SKTextAlign.Left, font, paint);
    }

    /// <summary>Text centred on <paramref name="centre"/> both ways (by the height of its capitals and figures).</summary>
    public void TextCentred(string text, SKPoint centre, float size, SKColor colour, bool bold = false, bool halo = false) =>
        Text(text, new SKPoint(centre.X - (Width(text, size, bold) / 2), centre.Y + (CapHeight * size * Unit / 2)), size, colour, bold, halo);

    /// <summary>Width of a text in canvas px.</summary>
    public float Width(string text, float size, bool bold = false) => Typefaces.Width(text, size * Unit, bold);

    /// <summary>Height of a capital in shares of the font's size: 0.714, the value that the embedded font states.</summary>
    public const float CapHeight = 0.714f;
}

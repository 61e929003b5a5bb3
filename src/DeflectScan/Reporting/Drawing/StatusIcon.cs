using SkiaSharp;

namespace DeflectScan.Reporting.Drawing;

/// <summary>A sign for the status: told by shape (disc with tick, triangle with stroke, octagon with cross) as well as by colour.</summary>
internal sealed class StatusIcon
{
    private readonly SKColor _fill;
    private readonly int _corners;
    private readonly SKPoint[][] _strokes;

    private StatusIcon(SKColor fill, int corners, params SKPoint[][] strokes)
    {
        _fill = fill;
        _corners = corners;
        _strokes = strokes;
    }

    public static StatusIcon Ok { get; } = new(Palette.Ghost, 0, Stroke(-0.24f, 0.02f, -0.06f, 0.2f, 0.26f, -0.18f));

    public static StatusIcon Review { get; } = new(Palette.Line, 3, Stroke(0, -0.2f, 0, 0.1f), Stroke(0, 0.25f, 0, 0.26f));

    public static StatusIcon Refused { get; } = new(
        Palette.Gap, 8, Stroke(-0.19f, -0.19f, 0.19f, 0.19f), Stroke(-0.19f, 0.19f, 0.19f, -0.19f));

    public static StatusIcon For(MeasurementStatus status) => status switch
    {
        MeasurementStatus.Ok => Ok,
        MeasurementStatus.NeedsReview => Review,
        _ => Refused,
    };

    /// <summary>Draws the sign in a square of <paramref name="size"/> units about <paramref name="centre"/>.</summary>
    public void Draw(Brush brush, SKPoint centre, float size)
    {
        float px = size * brush.Unit;
        using SKPathBuilder builder = new();
        if (_corners == 0)
            builder.AddCircle(centre.X, centre.Y, px * 0.5f, SKPathDirection.Clockwise);
        else
            builder.AddPoly(Corners(centre, px), close: true);
        using SKPath shape = builder.Detach();
        using SKPaint paint = new() { IsAntialias = true, Color = _fill };
        brush.Canvas.DrawPath(shape, paint);
        paint.Color = Palette.Ink;
        paint.Style = SKPaintStyle.Stroke;
        paint.StrokeCap = SKStrokeCap.Round;
        paint.StrokeJoin = SKStrokeJoin.Round;
        paint.StrokeWidth = px * 0.12f;
        foreach (SKPoint[] stroke in _strokes)
        {
            using SKPathBuilder line = new();
            line.AddPoly([.. stroke.Select(p => new SKPoint(centre.X + (p.X * px), centre.Y + (p.Y * px)))], close: false);
            using SKPath path = line.Detach();
            brush.Canvas.DrawPath(path, paint);
        }
    }

    private static SKPoint[] Stroke(params float[] xy) => [.. xy.Chunk(2).Select(p => new SKPoint(p[0], p[1]))];

    private SKPoint[] Corners(SKPoint centre, float px)
    {
        double start = _corners == 3 ? -Math.PI / 2 : Math.PI / _corners;
        float radius = px * (_corners == 3 ? 0.6f : 0.53f);
        float drop = _corners == 3 ? px * 0.07f : 0;
        return [.. Enumerable.Range(0, _corners).Select(i => start + (2 * Math.PI * i / _corners)).Select(a =>
            new SKPoint(centre.X + (radius * (float)Math.Cos(a)), centre.Y + drop + (radius * (float)Math.Sin(a))))];
    }
}

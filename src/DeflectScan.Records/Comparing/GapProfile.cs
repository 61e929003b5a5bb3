using DeflectScan.Geometry;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Reporting.Plots;
using SkiaSharp;

namespace DeflectScan.Records.Comparing;

/// <summary>
/// Both layouts on one straightened blank: the line's height over the axis along the stations from the tip, before and after, with each pair's gap.
/// </summary>
public static class GapProfile
{
    private const int Width = 900;
    private const int Height = 420;
    private const float Left = 58;
    private const float Right = 24;
    private const float Top = 76;
    private const float Bottom = 62;
    private static readonly SKColor Grid = new(0xDD, 0xE2, 0xE7);
    private static readonly SKColor Muted = new(0x52, 0x5E, 0x6A);
    private static readonly float[] Dashes = [7, 4];

    /// <summary>The plot as a file's bytes.</summary>
    /// <param name="c">Both measurements.</param>
    /// <param name="title">The build, one line.</param>
    /// <param name="format">Kind of file.</param>
    /// <param name="unit">Of all lengths.</param>
    public static byte[] Draw(Comparison c, string title, PlotFormat format, LengthUnit unit = LengthUnit.Millimetres) =>
        PlotPage.Draw(format, Width, Height, canvas => new Page(canvas, c, unit).Draw(title));

    private sealed class Page(SKCanvas canvas, Comparison c, LengthUnit unit)
    {
        private readonly double _farthest = new[] { c.Before, c.After }.Max(m => m.Guides.Count > 0 ? m.Guides.Max(g => g.StationMm) : 100) * 1.04;
        private readonly double _tallest = Math.Max(20, new[] { c.Before, c.After }.SelectMany(m => m.Guides).Select(g => g.HeightMm).DefaultIfEmpty(20).Max() * 1.15);

        public void Draw(string title)
        {
            canvas.Words(title.Length > 80 ? title[..79] + "…" : title, Left, 26, 17, Palette.Ink, bold: true);
            canvas.Words($"The line over the straightened blank, stations from the tip; figures are each pair's gap in {UnitsInSentences.Name(unit)}.", Left, 46, 12.5f, Muted);
            Axes();
            Layout(c.Before, Palette.Gap, Dashes, above: false);
            Layout(c.After, Palette.Axis, null, above: true);
            Key(Left, "before", Palette.Gap, Dashes);
            Key(Left + 110, "after", Palette.Axis, null);
        }

        private void Axes()
        {
            bool inches = unit == LengthUnit.Inches;
            double up = inches ? UnitsText.MmPerInch * (_tallest > 60 ? 1 : 0.5) : _tallest > 60 ? 20 : 10;
            for (double mm = 0; mm <= _tallest; mm += up)
            {
                Stroke([new(Left, Y(mm)), new(Width - Right, Y(mm))], mm == 0 ? Palette.Ink : Grid, mm == 0 ? 2.4f : 1, null);
                canvas.Words(inches ? $"{mm / UnitsText.MmPerInch:0.#}" : $"{mm:0}", Left - 8, Y(mm) + 4, 12, Muted, across: 1);
            }

            for (double mm = 0; mm <= _farthest; mm += inches ? 10 * UnitsText.MmPerInch : 200)
            {
                Stroke([new(X(mm), Y(0)), new(X(mm), Y(0) + 5)], Palette.Ink, 1, null);
                canvas.Words(inches ? $"{mm / UnitsText.MmPerInch:0}" : $"{mm:0}", X(mm), Height - Bottom + 20, 12, Muted, across: 0.5f);
            }

            canvas.Words($"{UnitsInSentences.Name(unit)} over the axis", Left - 8, Top - 8, 12, Muted, across: 0);
            canvas.Words($"{UnitsInSentences.Name(unit)} from the tip", Width - Right, Height - Bottom + 38, 12, Muted, across: 1);
        }

        private void Layout(Measurement m, SKColor colour, float[]? dash, bool above)
        {
            MeasuredRod rod = MeasuredRod.Of(m);
            foreach (IntervalReport pair in m.Intervals)
            {
                Stroke(Chord(rod.Shape.Axis, rod.RingsMm[pair.From - 1], rod.RingsMm[pair.To - 1], m.Guides[pair.From - 1].StationMm), colour, 2, dash);
                canvas.Words(UnitsInSentences.Bare(pair.GapMm, unit), X((m.Guides[pair.From - 1].StationMm + m.Guides[pair.To - 1].StationMm) / 2), Label(pair, above), 11.5f, colour, across: 0.5f, bold: true);
            }

            foreach (GuideReport g in m.Guides)
                Stroke([new(X(g.StationMm), Y(0)), new(X(g.StationMm), Y(g.HeightMm))], colour, 1.2f, dash);
        }

        private float Label(IntervalReport pair, bool above) => above ? Y(pair.GapMm * 0.6) : Y(0) - 6;

        /// <summary>The straight line between two rings as it stands over the axis: an arc on the straightened blank.</summary>
        private SKPoint[] Chord(ArcCurve axis, Vec2 from, Vec2 to, double near)
        {
            const int Steps = 40;
            SKPoint[] points = new SKPoint[Steps + 1];
            for (int i = 0; i <= Steps; i++)
            {
                Vec2 p = Vec2.Lerp(from, to, (double)i / Steps);
                (double s, double offset) = axis.Nearest(p, near);
                near = s;
                points[i] = new SKPoint(X(s), Y(Math.Abs(offset)));
            }

            return points;
        }

        private void Key(float x, string text, SKColor colour, float[]? dash)
        {
            Stroke([new(x, Height - 16), new(x + 34, Height - 16)], colour, 2.4f, dash);
            canvas.Words(text, x + 42, Height - 12, 13, Palette.Ink);
        }

        private float X(double mm) => (float)(Width - Right - ((Width - Right - Left) * mm / _farthest));

        private float Y(double mm) => (float)(Height - Bottom - ((Height - Bottom - Top) * mm / _tallest));

        private void Stroke(SKPoint[] points, SKColor colour, float width, float[]? dash)
        {
            using SKPathBuilder builder = new();
            builder.AddPoly(points, close: false);
            using SKPath path = builder.Detach();
            using SKPathEffect? effect = dash is null ? null : SKPathEffect.CreateDash(dash, 0);
            using SKPaint paint = new() { IsAntialias = true, Style = SKPaintStyle.Stroke, StrokeWidth = width, StrokeJoin = SKStrokeJoin.Round, Color = colour, PathEffect = effect };
            canvas.DrawPath(path, paint);
        }
    }
}

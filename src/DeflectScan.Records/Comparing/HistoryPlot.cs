using DeflectScan.Records.Model;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Reporting.Plots;
using SkiaSharp;

namespace DeflectScan.Records.Comparing;

/// <summary>A build's tests as a picture: the largest gap and the largest bow of each in their order, with what the measurements leave open.</summary>
public static class HistoryPlot
{
    private const int Width = 900;
    private const int Height = 420;
    private const float Left = 58;
    private const float Right = 30;
    private const float Top = 76;
    private const float Bottom = 84;
    private static readonly SKColor Grid = new(0xDD, 0xE2, 0xE7);
    private static readonly SKColor Muted = new(0x52, 0x5E, 0x6A);

    /// <summary>At most this many tests are drawn, the latest ones.</summary>
    public const int MostTests = 24;

    /// <summary>The plot as a file's bytes.</summary>
    public static byte[] Draw(IReadOnlyList<HistoryStep> steps, string title, PlotFormat format) =>
        PlotPage.Draw(format, Width, Height, canvas => new Page(canvas, [.. steps.TakeLast(MostTests).Select(s => s.Measurement)]).Draw(title));

    private sealed class Page(SKCanvas canvas, StoredMeasurement[] tests)
    {
        private readonly double _most = 1.12 * Math.Max(10, tests.SelectMany(t => new[] { t.LargestGapMm + t.LargestGapUncertaintyMm, t.LargestBowMm + t.LargestBowUncertaintyMm }).Max() ?? 10);

        public void Draw(string title)
        {
            canvas.Words(title.Length > 80 ? title[..79] + "…" : title, Left, 26, 17, Palette.Ink, bold: true);
            canvas.Words("The largest gap and the largest bow of each test, mm; bars: 95 % uncertainty.", Left, 46, 12.5f, Muted);
            double step = _most > 100 ? 20 : _most > 40 ? 10 : 5;
            for (double mm = 0; mm <= _most; mm += step)
            {
                Line(Left, Y(mm), Width - Right, Y(mm), mm == 0 ? Palette.Ink : Grid, mm == 0 ? 2.4f : 1);
                canvas.Words($"{mm:0}", Left - 8, Y(mm) + 4, 12, Muted, across: 1);
            }

            for (int i = 0; i < tests.Length; i++)
                Name(i);
            Series(Palette.Largest, t => t.LargestGapMm, t => t.LargestGapUncertaintyMm, "largest gap", Left);
            Series(Palette.Axis, t => t.LargestBowMm, t => t.LargestBowUncertaintyMm, "largest bow", Left + 150);
        }

        private void Name(int i)
        {
            const int MostLetters = 18;
            if (tests.Length > 12 && i % 2 == 1)
                return;
            string label = (tests[i].Label ?? "test").ReplaceLineEndings(" ");
            canvas.Words(label.Length > MostLetters ? label[..(MostLetters - 1)] + "…" : label, X(i), Height - Bottom + 18, tests.Length > 6 ? 9.5f : 12, Palette.Ink, across: 0.5f);
            canvas.Words($"{tests[i].MadeAt:yyyy-MM-dd}, {tests[i].TipTurnDeg:0}°", X(i), Height - Bottom + 34, tests.Length > 6 ? 8.5f : 11, Muted, across: 0.5f);
        }

        private void Series(SKColor colour, Func<StoredMeasurement, double?> value, Func<StoredMeasurement, double?> uncertainty, string name, float keyAt)
        {
            SKPoint? last = null;
            for (int i = 0; i < tests.Length; i++)
            {
                if (value(tests[i]) is not { } mm)
                    continue;
                SKPoint at = new(X(i), Y(mm));
                if (last is { } from)
                    Line(from.X, from.Y, at.X, at.Y, colour, 1.6f);
                last = at;
                double u = uncertainty(tests[i]) ?? 0;
                Line(at.X, Y(mm - u), at.X, Y(mm + u), colour, 2);
                Dot(at, colour);
                canvas.Words($"{mm:0.0}", at.X, Y(mm + u) - 8, 12, colour, across: 0.5f, bold: true);
            }

            Dot(new SKPoint(keyAt + 8, Height - 18), colour);
            canvas.Words(name, keyAt + 20, Height - 14, 13, Palette.Ink);
        }

        private float X(int i) => Left + ((Width - Left - Right) * (i + 0.5f) / tests.Length);

        private float Y(double mm) => (float)(Height - Bottom - ((Height - Bottom - Top) * mm / _most));

        private void Line(float x1, float y1, float x2, float y2, SKColor colour, float width)
        {
            using SKPaint paint = new() { IsAntialias = true, Color = colour, StrokeWidth = width, Style = SKPaintStyle.Stroke };
            canvas.DrawLine(x1, y1, x2, y2, paint);
        }

        private void Dot(SKPoint at, SKColor colour)
        {
            using SKPaint paint = new() { IsAntialias = true, Color = colour };
            canvas.DrawCircle(at, 3.5f, paint);
        }
    }
}

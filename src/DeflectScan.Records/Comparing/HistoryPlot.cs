using DeflectScan.Geometry;
using DeflectScan.Records.Model;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Reporting.Plots;
using SkiaSharp;

namespace DeflectScan.Records.Comparing;

/// <summary>
/// A build's tests as a picture, in their order: of each the running pair that follows worst, by name, and beside it the largest gap, with what the
/// measurements leave open.
/// </summary>
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

    /// <summary>Of so many tests at most the pairs are named at the points: more would overprint.</summary>
    private const int MostNamed = 8;

    /// <summary>At most this many tests are drawn, the latest ones.</summary>
    public const int MostTests = 24;

    /// <summary>The plot as a file's bytes.</summary>
    /// <param name="steps">The tests, oldest first.</param>
    /// <param name="title">The build, one line.</param>
    /// <param name="format">Kind of file.</param>
    /// <param name="unit">Of all lengths.</param>
    public static byte[] Draw(IReadOnlyList<HistoryStep> steps, string title, PlotFormat format, LengthUnit unit = LengthUnit.Millimetres) =>
        PlotPage.Draw(format, Width, Height, canvas => new Page(canvas, [.. steps.TakeLast(MostTests).Select(s => s.Measurement)], unit).Draw(title));

    /// <summary>What stands at a point: "6.1, 5 to 6".</summary>
    internal static string Label(double mm, WorstPair? pair, LengthUnit unit) => UnitsInSentences.Bare(mm, unit) + (pair is null ? "" : $", {pair.Name}");

    private sealed class Page(SKCanvas canvas, StoredMeasurement[] tests, LengthUnit unit)
    {
        private readonly double _most = 1.12 * Math.Max(10, tests.SelectMany(t => new[] { t.LargestGapMm + t.LargestGapUncertaintyMm, t.Worst?.Mm + t.Worst?.UncertaintyMm }).Max() ?? 10);
        private readonly double _least = 1.12 * Math.Min(0, tests.Min(t => t.Worst?.Mm - t.Worst?.UncertaintyMm) ?? 0);

        public void Draw(string title)
        {
            canvas.Words(title.Length > 80 ? title[..79] + "…" : title, Left, 26, 17, Palette.Ink, bold: true);
            canvas.Words($"The running pair that follows worst in each test, and the largest gap, {UnitsInSentences.Name(unit)}; bars: 95 % uncertainty.", Left, 46, 12.5f, Muted);
            double step = Step();
            for (int i = (int)Math.Ceiling(_least / step); i * step <= _most; i++)
            {
                double mm = i * step;
                Line(Left, Y(mm), Width - Right, Y(mm), i == 0 ? Palette.Ink : Grid, i == 0 ? 2.4f : 1);
                canvas.Words(unit == LengthUnit.Millimetres ? $"{mm:0}" : $"{mm / UnitsText.MmPerInch:0.##}", Left - 8, Y(mm) + 4, 12, Muted, across: 1);
            }

            for (int i = 0; i < tests.Length; i++)
                Name(i);
            Series(Muted, 1, t => t.LargestGapMm, t => t.LargestGapUncertaintyMm, t => null, "largest gap", Left + 420);
            Series(Palette.Largest, 2, t => Worst(t, clearance: false)?.Mm, t => Worst(t, clearance: false)?.UncertaintyMm, t => t.Worst, "follows worst, by bow", Left);
            Series(Palette.Axis, 2, t => Worst(t, clearance: true)?.Mm, t => Worst(t, clearance: true)?.UncertaintyMm, t => t.Worst, "follows worst, by clearance", Left + 200);
        }

        private static WorstPair? Worst(StoredMeasurement t, bool clearance) => t.Worst is { } w && w.ByClearance == clearance ? w : null;

        /// <summary>Of the grid, mm: round in the unit that is shown.</summary>
        private double Step()
        {
            double span = _most - _least;
            return unit == LengthUnit.Millimetres ? (span > 100 ? 20 : span > 40 ? 10 : 5) : UnitsText.MmPerInch * (span > 100 ? 1 : span > 40 ? 0.5 : 0.2);
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

        private void Series(
            SKColor colour, float weight, Func<StoredMeasurement, double?> value, Func<StoredMeasurement, double?> uncertainty, Func<StoredMeasurement, WorstPair?> pair, string name, float keyAt)
        {
            if (!tests.Any(t => value(t) is not null))
                return;
            SKPoint? last = null;
            for (int i = 0; i < tests.Length; i++)
            {
                if (value(tests[i]) is not { } mm)
                    continue;
                SKPoint at = new(X(i), Y(mm));
                if (last is { } from)
                    Line(from.X, from.Y, at.X, at.Y, colour, 0.8f * weight);
                last = at;
                double u = uncertainty(tests[i]) ?? 0;
                Line(at.X, Y(mm - u), at.X, Y(mm + u), colour, weight);
                Dot(at, colour);
                canvas.Words(Label(mm, tests.Length > MostNamed ? null : pair(tests[i]), unit), at.X, Y(mm + u) - 8, 12, colour, across: 0.5f, bold: weight > 1);
            }

            Dot(new SKPoint(keyAt + 8, Height - 18), colour);
            canvas.Words(name, keyAt + 20, Height - 14, 13, Palette.Ink);
        }

        private float X(int i) => Left + ((Width - Left - Right) * (i + 0.5f) / tests.Length);

        private float Y(double mm) => (float)(Height - Bottom - ((Height - Bottom - Top) * (mm - _least) / (_most - _least)));

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

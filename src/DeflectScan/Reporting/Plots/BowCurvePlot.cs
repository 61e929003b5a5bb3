using DeflectScan.Desk;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Layout.Spacing;
using DeflectScan.Layout.Suggesting;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;
using SkiaSharp;

namespace DeflectScan.Reporting.Plots;

/// <summary>
/// The largest bow (or gap) of the best layout against the number of guides, each point with its figure, the mass of the running guides under it where
/// that is known, and the layout as it stands: shows where one more guide stops paying.
/// </summary>
public static class BowCurvePlot
{
    private const int Width = 720;
    private const int Height = 470;
    private const float Left = 74;
    private const float Right = 26;
    private const float Top = 92;
    private const float Bottom = 96;
    private static readonly SKColor Grid = new(0xDD, 0xE2, 0xE7);
    private static readonly SKColor Muted = new(0x52, 0x5E, 0x6A);

    /// <summary>The plot as a file's bytes.</summary>
    /// <param name="report">A report whose curve has at least one step.</param>
    /// <param name="title">The rod, one line.</param>
    /// <param name="format">Kind of file.</param>
    /// <param name="unit">Of all lengths.</param>
    public static byte[] Draw(SpacingReport report, string title, PlotFormat format, LengthUnit unit = LengthUnit.Millimetres) =>
        PlotPage.Draw(format, Width, Height, canvas => new Drawing(canvas, report, title, unit).All());

    private sealed class Drawing(SKCanvas canvas, SpacingReport report, string title, LengthUnit unit)
    {
        private readonly bool _isBow = report.Goal == SpacingGoal.Bow;
        private readonly IReadOnlyList<SpacingStep> _steps = Shown(report);
        private readonly double _ceiling = Nice(Math.Max(Shown(report).Max(s => Value(report, s)), Standing(report)), unit);

        private static readonly SuggestionOptions Worth = new();

        private string What => _isBow ? "bow" : "gap";

        public void All()
        {
            canvas.Words(Shortened(title, 60), Left, 34, 19, Palette.Ink, bold: true);
            canvas.Words($"Largest {What} of the running guides, best spacing for each number of guides", Left, 57, 13.5f, Muted);
            Axes();
            Curve();
            Now();
            Foot();
        }

        private void Axes()
        {
            double step = _ceiling / 5;
            for (int i = 0; i <= 5; i++)
            {
                float y = Y(i * step);
                Stroke([new(Left, y), new(Width - Right, y)], i == 0 ? Palette.Ink : Grid, 1);
                canvas.Words(unit == LengthUnit.Millimetres ? $"{i * step:0.##}" : $"{i * step / UnitsText.MmPerInch:0.###}", Left - 8, y + 4.5f, 13, Muted, across: 1);
            }

            canvas.Words($"{What}, {UnitsInSentences.Name(unit)}", Left - 8, Top - 14, 13, Muted, across: 1);
            foreach (SpacingStep s in _steps)
                canvas.Words($"{s.Guides}", X(s.Guides), Height - Bottom + 20, 14, Palette.Ink, across: 0.5f, bold: s.Guides == report.PaysUpTo);
            bool mass = _steps.Any(s => s.RunningMassG > 0);
            canvas.Words("guides", 10, Height - Bottom + 20, 13, Muted);
            if (!mass)
                return;
            canvas.Words("mass, g", 10, Height - Bottom + 40, 13, Muted);
            foreach (SpacingStep s in _steps)
                canvas.Words($"{s.RunningMassG:0.0}", X(s.Guides), Height - Bottom + 40, 12.5f, Muted, across: 0.5f);
        }

        private void Curve()
        {
            Stroke([.. _steps.Select(s => new SKPoint(X(s.Guides), Y(Value(report, s))))], Palette.Axis, 2.4f);
            foreach (SpacingStep s in _steps)
            {
                bool worth = s.Guides == report.PaysUpTo;
                Dot(X(s.Guides), Y(Value(report, s)), worth ? 7.5f : 5, Palette.Axis);
                if (worth)
                    Dot(X(s.Guides), Y(Value(report, s)), 3.2f, Palette.Paper);
                bool below = s.Guides == report.Before.Guides.Count - 1 && Y(Value(report, s)) < Height - Bottom - 26;
                canvas.Words(
                    UnitsInSentences.Bare(Value(report, s), unit), X(s.Guides) + (below ? -7 : 9), Y(Value(report, s)) + (below ? 20 : -9), 13.5f, Palette.Ink, across: below ? 1 : 0, bold: worth);
            }
        }

        private void Now()
        {
            int guides = report.Before.Guides.Count - 1;
            double standing = Standing(report);
            (float x, float y) = (X(guides), Y(standing));
            SKPoint[] diamond = [new(x, y - 8), new(x + 8, y), new(x, y + 8), new(x - 8, y), new(x, y - 8)];
            using SKPathBuilder builder = new();
            builder.AddPoly(diamond, close: true);
            using SKPath path = builder.Detach();
            using SKPaint fill = new() { IsAntialias = true, Color = Palette.Largest };
            canvas.DrawPath(path, fill);
            canvas.Words($"now {UnitsInSentences.Bare(standing, unit)}", x, y - (Y(0) - y < 26 ? 30 : 13), 13.5f, Palette.Largest, across: 0.2f, bold: true);
        }

        private void Foot()
        {
            string pays = report.PaysUpTo <= report.Held ? "No further guide" : $"Up to {report.PaysUpTo} guides each one";
            canvas.Words(
                $"{pays} pays: the line would turn sharply without it, and it takes off at least {(unit == LengthUnit.Millimetres ? $"{Worth.LeastGainMm:0} mm" : $"{UnitsInSentences.Bare(Worth.LeastGainMm, unit)} in")} and {100 * Worth.LeastGainShare:0} % (open circle).",
                Left, Height - 26, 13, Palette.Ink);
            string held = report.Held == 1 ? "The guide nearest the reel stays" : $"The {report.Held} guides nearest the reel stay";
            canvas.Words($"{held}. Weight at the tip slows a rod.", Left, Height - 9, 12, Muted);
        }

        private float X(int guides)
        {
            int first = Math.Min(_steps[0].Guides, report.Before.Guides.Count - 1);
            int last = Math.Max(_steps[^1].Guides, report.Before.Guides.Count - 1);
            float room = Width - Left - Right - 60;
            return Left + 24 + (room * (guides - first) / Math.Max(1, last - first));
        }

        private float Y(double mm) => (float)(Height - Bottom - ((Height - Bottom - Top) * mm / _ceiling));

        private void Stroke(SKPoint[] points, SKColor colour, float width)
        {
            if (points.Length < 2)
                return;
            using SKPathBuilder builder = new();
            builder.AddPoly(points, close: false);
            using SKPath path = builder.Detach();
            using SKPaint paint = new() { IsAntialias = true, Style = SKPaintStyle.Stroke, StrokeWidth = width, StrokeJoin = SKStrokeJoin.Round, Color = colour };
            canvas.DrawPath(path, paint);
        }

        private void Dot(float x, float y, float radius, SKColor colour)
        {
            using SKPaint paint = new() { IsAntialias = true, Color = colour };
            canvas.DrawCircle(x, y, radius, paint);
        }
    }

    private static double Value(SpacingReport report, SpacingStep s) => report.Goal == SpacingGoal.Bow ? s.LargestBowMm : s.LargestGapMm;

    /// <summary>Without the first steps, whose far larger bows would press the others flat; three at least.</summary>
    private static IReadOnlyList<SpacingStep> Shown(SpacingReport report)
    {
        const double MostTimesStanding = 3;
        int skip = report.Curve.TakeWhile(s => Value(report, s) > MostTimesStanding * Standing(report)).Count();
        return [.. report.Curve.Skip(Math.Clamp(skip, 0, Math.Max(0, report.Curve.Count - 3)))];
    }

    /// <summary>The running intervals' largest bow or gap as the layout stands, mm.</summary>
    private static double Standing(SpacingReport report) =>
        report.Before.Pairs.Skip(report.Held - 1).Max(p => report.Goal == SpacingGoal.Bow ? p.BowMm : p.GapMm);

    private static string Shortened(string text, int most) => text.Length <= most ? text : text[..(most - 1)] + "…";

    /// <summary>A round ceiling in the unit that is shown, mm.</summary>
    private static double Nice(double mm, LengthUnit unit) => unit == LengthUnit.Millimetres ? NiceCeiling(mm) : NiceCeiling(mm / UnitsText.MmPerInch) * UnitsText.MmPerInch;

    /// <summary>The next of 1, 2, 2.5, 4, 5 times a power of ten, so that five steps are round.</summary>
    private static double NiceCeiling(double value)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(Math.Max(value, 1e-3))));
        return new[] { 1, 1.5, 2, 2.5, 4, 5, 7.5, 10 }.First(k => k * power >= value - 1e-9) * power;
    }
}

using DeflectScan.Geometry;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;
using SkiaSharp;

namespace DeflectScan.Reporting.Unrolled;

/// <summary>Two rulers along the strip: millimetres and inches from the tip.</summary>
internal static class StripRulers
{
    /// <summary>Height of both rulers in units.</summary>
    public const float Height = 118;

    private const float LeastLabelUnits = 66;
    private const float LeastTickUnits = 4.5f;

    public static void Draw(Brush brush, Unrolling unrolling, float top)
    {
        float unit = brush.Unit;
        Ruler(brush, unrolling, top + (6 * unit), 1, [10, 20, 50, 100, 200, 500, 1000], "mm from the tip");
        Ruler(brush, unrolling, top + (62 * unit), UnitsText.MmPerInch, [1, 2, 4, 6, 12, 24, 48], "inches from the tip");
    }

    private static void Ruler(Brush brush, Unrolling unrolling, float y, double mmPerStep, double[] steps, string words)
    {
        float unit = brush.Unit;
        double unitsPerStep = unrolling.PxPerMm * mmPerStep / unit;
        double label = steps.FirstOrDefault(s => s * unitsPerStep >= LeastLabelUnits, steps[^1]);
        double tick = Ticks(label, mmPerStep).First(t => t * unitsPerStep >= LeastTickUnits || t == label);
        brush.Segment(X(0), X(unrolling.ToMm), Palette.Paper, 1.2f, halo: 0);
        for (int i = 0; i * tick * mmPerStep <= unrolling.ToMm; i++)
        {
            bool labelled = Math.Abs(Math.IEEERemainder(i * tick, label)) < 1e-9;
            bool half = Math.Abs(Math.IEEERemainder(i * tick, label / 2)) < 1e-9;
            SKPoint at = X(i * tick * mmPerStep);
            brush.Segment(at, at + new SKPoint(0, (labelled ? 12 : half ? 9 : 5) * unit), Palette.Paper, labelled ? 1.5f : 1, halo: 0);
            if (!labelled)
                continue;
            string text = i == 0 ? "0" : $"{i * tick:0}";
            float width = brush.Width(text, 21);
            float x = Math.Clamp(at.X - (width / 2), 2 * unit, (1000 * unit) - width - (2 * unit));
            brush.Text(text, new SKPoint(x, y + (31 * unit)), 21, Palette.Paper);
        }

        // The ruler's name stands at the reel's end, between the first two figures there.
        float nameWidth = brush.Width(words, 19);
        float nameX = unrolling.TipRight ? 14 * unit : (986 * unit) - nameWidth;
        brush.Text(words, new SKPoint(nameX, y + (49 * unit)), 19, Palette.Quiet);

        SKPoint X(double mm) => new((float)unrolling.ToStrip(new Vec2(mm, 0)).X, y);
    }

    private static double[] Ticks(double label, double mmPerStep) =>
        mmPerStep == 1 ? [label / 20, label / 10, label / 5, label / 2, label] : [0.25, 0.5, 1, label / 2, label];
}

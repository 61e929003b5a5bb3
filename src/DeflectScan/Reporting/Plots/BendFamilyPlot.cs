using DeflectScan.Bending;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Drawing;
using SkiaSharp;

namespace DeflectScan.Reporting.Plots;

/// <summary>
/// The family of bends in true proportions: each curve with its guides, its band of uncertainty, dashed where the photos do not tell the stiffness or the
/// load is beyond what was photographed, named at its tip.
/// </summary>
public static class BendFamilyPlot
{
    private const int Width = 900;
    private const float Margin = 46;
    private const float Head = 84;
    private const float Foot = 64;
    private const float Names = 186; // room for the curves' names beside their tips
    private static readonly SKColor Muted = new(0x52, 0x5E, 0x6A);
    private static readonly SKColor[] Colours = [new(0x24, 0x56, 0xC8), new(0xB0, 0x45, 0x12), new(0x0B, 0x6E, 0x5A), new(0x6A, 0x2C, 0x91), new(0x7A, 0x5B, 0x00), new(0x8E, 0x0F, 0x4E)];

    /// <summary>The plot as a file's bytes.</summary>
    /// <param name="report">At least one bend.</param>
    /// <param name="title">The rod, one line.</param>
    /// <param name="format">Kind of file.</param>
    /// <param name="unit">Of the scale bar; with inches, forces are in pounds too.</param>
    public static byte[] Draw(BendReport report, string title, PlotFormat format, LengthUnit unit = LengthUnit.Millimetres)
    {
        Vec2[] all = [.. report.Bends.SelectMany(b => b.Axis).Concat(report.Line?.Axis ?? []).Select(a => a.PointMm)];
        (double left, double right) = (all.Min(p => p.X), all.Max(p => p.X));
        (double low, double high) = (all.Min(p => p.Y), all.Max(p => p.Y));
        double scale = Math.Min((Width - (2 * Margin) - Names) / Math.Max(right - left, 1), 620 / Math.Max(high - low, 1));
        int height = (int)(Head + Foot + (scale * (high - low)) + 30);

        // Names stand on the side that the tips point to.
        bool toLeft = report.Bends[0].Axis[0].PointMm.X < report.Bends[0].Axis[^1].PointMm.X;
        float start = (float)(((Width - (scale * (right - left)) - Names) / 2) + (toLeft ? Names : 0));
        return PlotPage.Draw(format, Width, height, canvas =>
        {
            SKPoint Place(Vec2 p) => new((float)(start + ((p.X - left) * scale)), (float)(Head + ((high - p.Y) * scale)));
            new Drawing(canvas, report, Place, (float)scale, toLeft, unit).All(title, height);
        });
    }

    private sealed class Drawing(SKCanvas canvas, BendReport report, Func<Vec2, SKPoint> place, float scale, bool toLeft, LengthUnit unit)
    {
        public void All(string title, int height)
        {
            canvas.Words(title.Length > 70 ? title[..69] + "…" : title, Margin, 34, 19, Palette.Ink, bold: true);
            canvas.Words("The blank at other loads, clamped as photographed", Margin, 57, 13.5f, Muted);
            List<(float Y, string Name, SKColor Colour, SKPoint Tip)> names = [];
            for (int i = 0; i < report.Bends.Count; i++)
            {
                BendCase b = report.Bends[i];
                SKColor colour = Colours[i % Colours.Length];
                Band(b.Axis, colour);
                Curve(b.Axis, colour, dashedAll: b.BeyondMeasured, width: b.LoadFactor == 1 ? 3.4f : 2.2f);
                Rings(b, colour);
                string load = b.LoadN is { } n ? Force(n) : $"{b.LoadFactor:0.##}x";
                names.Add((place(b.TipMm).Y, $"{load}, tip {b.TipTurnDeg:0}°", colour, place(b.TipMm)));
            }

            if (report.Line is { } line)
            {
                Curve(line.Axis, Palette.Ink, dashedAll: false, width: 1.2f);
                names.Add((place(line.Axis[0].PointMm).Y, $"{(line.TensionN is { } n ? Force(n) : $"{line.TensionFactor:0.##}x")} by the line, tip {line.TipTurnDeg:0}°", Palette.Ink, place(line.Axis[0].PointMm)));
            }

            Label(names);
            Scale(height);
        }

        private void Band(IReadOnlyList<BendSample> axis, SKColor colour)
        {
            List<SKPoint> there = [];
            List<SKPoint> back = [];
            for (int i = 0; i < axis.Count; i++)
            {
                Vec2 along = (axis[Math.Min(i + 1, axis.Count - 1)].PointMm - axis[Math.Max(i - 1, 0)].PointMm).Normalized();
                there.Add(place(axis[i].PointMm + (along.Perpendicular * axis[i].AcrossUncertaintyMm)));
                back.Insert(0, place(axis[i].PointMm - (along.Perpendicular * axis[i].AcrossUncertaintyMm)));
            }

            using SKPathBuilder builder = new();
            builder.AddPoly([.. there, .. back], close: true);
            using SKPath path = builder.Detach();
            using SKPaint paint = new() { IsAntialias = true, Color = colour.WithAlpha(34) };
            canvas.DrawPath(path, paint);
        }

        private void Curve(IReadOnlyList<BendSample> axis, SKColor colour, bool dashedAll, float width)
        {
            int from = 0;
            for (int i = 1; i < axis.Count; i++)
            {
                if (i < axis.Count - 1 && axis[i].IsTold == axis[from].IsTold)
                    continue;
                Stroke([.. axis.Skip(from).Take(i - from + 1).Select(a => place(a.PointMm))], colour, width, dashedAll || !axis[from].IsTold ? [7, 5] : null);
                from = i;
            }
        }

        private void Rings(BendCase bend, SKColor colour)
        {
            using SKPaint paint = new() { IsAntialias = true, Color = colour };
            foreach (double s in bend.Present.StationsMm)
            {
                int i = Math.Clamp((int)Math.Round(s / bend.Axis[1].StationMm), 0, bend.Axis.Count - 1);
                canvas.DrawCircle(place(bend.Axis[i].PointMm), 3.2f, paint);
            }
        }

        // Names one under the other, none on another, each joined to its tip.
        private void Label(List<(float Y, string Name, SKColor Colour, SKPoint Tip)> names)
        {
            float edge = toLeft ? names.Min(n => n.Tip.X) - 18 : names.Max(n => n.Tip.X) + 18;
            float last = float.NegativeInfinity;
            foreach ((float y, string name, SKColor colour, SKPoint tip) in names.OrderBy(n => n.Y))
            {
                float at = Math.Max(y, last + 19);
                last = at;
                Stroke([tip, new SKPoint(edge, at)], colour.WithAlpha(120), 0.9f, null);
                canvas.Words(name, edge + (toLeft ? -5 : 5), at + 4.5f, 13.5f, colour, across: toLeft ? 1 : 0, bold: true);
            }
        }

        private void Scale(int height)
        {
            float y = height - 40;
            double length = (500 * scale > 240 ? 200 : 500) is var mm && unit == LengthUnit.Millimetres ? mm : mm == 500 ? 20 * UnitsText.MmPerInch : 8 * UnitsText.MmPerInch;
            Stroke([new(Margin, y), new(Margin + (float)(length * scale), y)], Palette.Ink, 2, null);
            canvas.Words(unit == LengthUnit.Millimetres ? $"{length:0} mm" : $"{length / UnitsText.MmPerInch:0} in", Margin + (float)(length * scale) + 8, y + 4.5f, 13, Palette.Ink);
            canvas.Words("band: 95 % uncertainty; dashed: not told by the photos, or beyond the photographed load; dots: guides", Margin, height - 14, 12.5f, Muted);
        }

        private string Force(double n) => unit == LengthUnit.Millimetres ? $"{n:0.0} N" : $"{n:0.0} N ({ForceText.Pounds(n):0.0} lb)";

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

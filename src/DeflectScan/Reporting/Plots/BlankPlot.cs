using DeflectScan.Bending;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Drawing;
using SkiaSharp;

namespace DeflectScan.Reporting.Plots;

/// <summary>
/// One or two blanks along their length: curvature at the photographed load with the share of the turning in each third, and stiffness with its
/// uncertainty on a logarithmic scale; dashed where the photos do not tell it.
/// </summary>
public static class BlankPlot
{
    private const int Width = 860;
    private const int Height = 700;
    private const float Left = 84;
    private const float Right = 34;
    private static readonly SKColor Grid = new(0xDD, 0xE2, 0xE7);
    private static readonly SKColor Muted = new(0x52, 0x5E, 0x6A);
    private static readonly SKColor[] Colours = [new(0x24, 0x56, 0xC8), new(0xB0, 0x45, 0x12)];

    /// <summary>The plot as a file's bytes.</summary>
    /// <param name="blanks">One or two.</param>
    /// <param name="format">Kind of file.</param>
    /// <param name="unit">Of the stations.</param>
    public static byte[] Draw(IReadOnlyList<BlankFigures> blanks, PlotFormat format, LengthUnit unit = LengthUnit.Millimetres) =>
        PlotPage.Draw(format, Width, Height, canvas => new Drawing(canvas, blanks, unit).All());

    private sealed class Drawing(SKCanvas canvas, IReadOnlyList<BlankFigures> blanks, LengthUnit unit)
    {
        private readonly double _step = unit == LengthUnit.Millimetres ? 200 : 10 * UnitsText.MmPerInch;
        private readonly double _length = Math.Ceiling(blanks.Max(b => b.Blank.LengthMm) / (unit == LengthUnit.Millimetres ? 200 : 10 * UnitsText.MmPerInch)) * (unit == LengthUnit.Millimetres ? 200 : 10 * UnitsText.MmPerInch);
        private readonly bool _absolute = blanks.All(b => b.Stations.All(s => s.StiffnessNm2 is not null));

        public void All()
        {
            for (int i = 0; i < blanks.Count; i++)
            {
                string name = blanks[i].Name.Length > 52 ? blanks[i].Name[..51] + "…" : blanks[i].Name;
                canvas.Words($"{name}: tip turned {blanks[i].MeasuredTipTurnDeg:0}° in the photo", Left, 34 + (22 * i), 16, Colours[i], bold: true);
            }

            Curvature(top: 132, bottom: 338);
            Stiffness(top: 400, bottom: 630);
            canvas.Words("band: 95 % uncertainty; dashed: a smooth continuation, not told by the photos", Left, Height - 14, 12.5f, Muted);
        }

        private void Curvature(float top, float bottom)
        {
            double most = Nice(blanks.Max(b => b.Stations.Max(s => s.CurvaturePerM)));
            float Y(double v) => (float)(bottom - ((bottom - top) * Math.Max(0, v) / most));
            canvas.Words("Where it bends: curvature at the photographed load, 1/m; share of the turning in each third", Left, top - 48, 13.5f, Palette.Ink, bold: true);
            for (int i = 0; i <= 4; i++)
            {
                Stroke([new(Left, Y(most * i / 4)), new(Width - Right, Y(most * i / 4))], Grid, 1, null);
                canvas.Words($"{most * i / 4:0.##}", Left - 8, Y(most * i / 4) + 4.5f, 13, Muted, across: 1);
            }

            AxisBelow(bottom);
            for (int i = 0; i < blanks.Count; i++)
            {
                BlankFigures b = blanks[i];
                Pieces(b, s => new SKPoint(X(s.StationMm), Y(s.CurvaturePerM)), Colours[i]);
                double[] shares = [b.MeasuredTurning.Tip, b.MeasuredTurning.Middle, b.MeasuredTurning.Butt];
                for (int k = 0; k < 3; k++)
                {
                    canvas.Words($"{100 * shares[k]:0} %", X(b.Blank.LengthMm * ((2 * k) + 1) / 6), top - 8 - ((blanks.Count - 1 - i) * 18), 13.5f, Colours[i], across: 0.5f, bold: true);
                    if (k > 0)
                        Stroke([new(X(b.Blank.LengthMm * k / 3), top), new(X(b.Blank.LengthMm * k / 3), bottom)], Colours[i].WithAlpha(90), 1, [3, 4]);
                }
            }
        }

        private void Stiffness(float top, float bottom)
        {
            double Value(StiffnessAt s) => _absolute ? s.StiffnessNm2!.Value : s.StiffnessOverLoadM2;
            double low = Math.Floor(Math.Log10(blanks.Min(b => b.Stations.Where(s => s.StationMm > 0.02 * b.Blank.LengthMm).Min(Value))));
            double high = Math.Ceiling(Math.Log10(blanks.Max(b => b.Stations.Max(Value))));
            float Y(double v) => (float)(bottom - ((bottom - top) * Math.Clamp((Math.Log10(Math.Max(v, 1e-12)) - low) / Math.Max(1, high - low), 0, 1)));
            canvas.Words(_absolute ? "Stiffness EI, N·m²" : "Stiffness over the photographed load, EI/F, m²: load not known", Left, top - 16, 13.5f, Palette.Ink, bold: true);
            for (double d = low; d <= high; d++)
            {
                Stroke([new(Left, Y(Math.Pow(10, d))), new(Width - Right, Y(Math.Pow(10, d)))], Grid, 1, null);
                canvas.Words(FormattableString.Invariant($"{Math.Pow(10, d):0.####}"), Left - 8, Y(Math.Pow(10, d)) + 4.5f, 13, Muted, across: 1);
                for (int k = 2; k < 10 && d < high; k++)
                    Stroke([new(Left - 4, Y(k * Math.Pow(10, d))), new(Left, Y(k * Math.Pow(10, d)))], Muted, 1, null);
            }

            AxisBelow(bottom);
            for (int i = 0; i < blanks.Count; i++)
            {
                IReadOnlyList<StiffnessAt> all = blanks[i].Stations;
                SKPoint[] band =
                [
                    .. all.Select(s => new SKPoint(X(s.StationMm), Y(Value(s) * (1 + s.UncertaintyShare)))),
                    .. all.Reverse().Select(s => new SKPoint(X(s.StationMm), Y(Value(s) * Math.Max(0.01, 1 - s.UncertaintyShare)))),
                ];
                using SKPathBuilder builder = new();
                builder.AddPoly(band, close: true);
                using SKPath path = builder.Detach();
                using SKPaint paint = new() { IsAntialias = true, Color = Colours[i].WithAlpha(40) };
                canvas.DrawPath(path, paint);
                Pieces(blanks[i], s => new SKPoint(X(s.StationMm), Y(Value(s))), Colours[i]);
            }
        }

        private void AxisBelow(float y)
        {
            Stroke([new(Left, y), new(Width - Right, y)], Palette.Ink, 1, null);
            for (double s = 0; s <= _length + 1; s += _step)
                canvas.Words($"{(unit == LengthUnit.Millimetres ? s : s / UnitsText.MmPerInch):0}", X(s), y + 18, 13, Muted, across: 0.5f);
            canvas.Words($"{UnitsInSentences.Name(unit)} from the tip", Width - Right, y + 35, 13, Muted, across: 1);
        }

        private void Pieces(BlankFigures blank, Func<StiffnessAt, SKPoint> place, SKColor colour)
        {
            for (int i = 0; i + 1 < blank.Stations.Count; i++)
                Stroke([place(blank.Stations[i]), place(blank.Stations[i + 1])], colour, 2.4f, blank.Stations[i].IsTold && blank.Stations[i + 1].IsTold ? null : [5, 4]);
        }

        private float X(double stationMm) => (float)(Left + ((Width - Left - Right) * stationMm / _length));

        private void Stroke(SKPoint[] points, SKColor colour, float width, float[]? dash)
        {
            using SKPathBuilder builder = new();
            builder.AddPoly(points, close: false);
            using SKPath path = builder.Detach();
            using SKPathEffect? effect = dash is null ? null : SKPathEffect.CreateDash(dash, 0);
            using SKPaint paint = new() { IsAntialias = true, Style = SKPaintStyle.Stroke, StrokeWidth = width, StrokeCap = dash is null ? SKStrokeCap.Round : SKStrokeCap.Butt, Color = colour, PathEffect = effect };
            canvas.DrawPath(path, paint);
        }

        private static double Nice(double value)
        {
            double power = Math.Pow(10, Math.Floor(Math.Log10(Math.Max(value, 1e-6))));
            return new[] { 1, 1.2, 1.6, 2, 2.4, 3, 4, 5, 6, 8, 10 }.First(k => k * power >= value - 1e-12) * power;
        }
    }
}

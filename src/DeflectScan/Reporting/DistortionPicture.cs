using System.Globalization;
using DeflectScan.Calibration;
using DeflectScan.Calibration.Lens;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;
using SkiaSharp;

namespace DeflectScan.Reporting;

/// <summary>
/// A lens's distortion as a picture: how far it moves each place of the frame (shade and arrows, the arrows lengthened), the corners that
/// it was calibrated from, and their residuals' size.
/// </summary>
public static class DistortionPicture
{
    private const int WidthPx = 1200;
    private const int Margin = 24;
    private const int Caption = 118;
    private const int CellPx = 12;
    private static readonly SKColor Low = new(0xF3, 0xF6, 0xFA);
    private static readonly SKColor High = new(0x24, 0x56, 0xC8);

    /// <summary>The picture as PNG.</summary>
    public static byte[] Draw(LensCalibration lens)
    {
        float scale = (WidthPx - (2f * Margin)) / lens.Profile.WidthPx;
        int height = (int)(lens.Profile.HeightPx * scale);
        using Picture picture = new(WidthPx, height + Caption + Margin);
        Brush brush = picture.Brush;
        double largest = Corners(lens.Profile).Max(lens.DisplacementPx);
        Shade(brush, lens, scale, largest);
        Dots(brush, lens, scale);
        double times = Arrows(brush, lens, scale, largest);
        Words(brush, lens, height, largest, times);
        return picture.ToPng();
    }

    private static IEnumerable<Vec2> Corners(LensProfile p) =>
        [new(0, 0), new(p.WidthPx - 1, 0), new(0, p.HeightPx - 1), new(p.WidthPx - 1, p.HeightPx - 1), new(p.WidthPx / 2.0, 0), new(0, p.HeightPx / 2.0)];

    private static SKPoint At(Vec2 px, float scale) => new(Margin + ((float)px.X * scale), Margin + ((float)px.Y * scale));

    private static void Shade(Brush brush, LensCalibration lens, float scale, double largest)
    {
        using SKPaint paint = new();
        float right = Margin + (lens.Profile.WidthPx * scale);
        float bottom = Margin + (lens.Profile.HeightPx * scale);
        for (float y = Margin; y < bottom; y += CellPx)
        {
            for (float x = Margin; x < right; x += CellPx)
            {
                Vec2 px = new((x + (CellPx / 2f) - Margin) / scale, (y + (CellPx / 2f) - Margin) / scale);
                paint.Color = Mix(largest > 0 ? lens.DisplacementPx(px) / largest : 0);
                brush.Canvas.DrawRect(SKRect.Create(x, y, Math.Min(CellPx, right - x), Math.Min(CellPx, bottom - y)), paint);
            }
        }
    }

    private static SKColor Mix(double share)
    {
        double t = 0.85 * Math.Clamp(share, 0, 1);
        byte Of(byte a, byte b) => (byte)(a + ((b - a) * t));
        return new SKColor(Of(Low.Red, High.Red), Of(Low.Green, High.Green), Of(Low.Blue, High.Blue));
    }

    private static void Dots(Brush brush, LensCalibration lens, float scale)
    {
        using SKPaint paint = new() { IsAntialias = true, Color = Palette.Gap.WithAlpha(150) };
        foreach (Vec2 corner in lens.CornersPx)
            brush.Canvas.DrawCircle(At(corner, scale), 2.2f, paint);
    }

    /// <summary>From where a perfect lens would show a place to where this one does.</summary>
    /// <returns>How many times the arrows are lengthened.</returns>
    private static double Arrows(Brush brush, LensCalibration lens, float scale, double largest)
    {
        const int Across = 15;
        const double LongestPx = 56; // in the picture
        double times = largest > 0 ? LongestPx / (largest * scale) : 1;
        times = times >= 1 ? Math.Floor(times) : 1;
        brush.Canvas.Save();
        brush.Canvas.ClipRect(SKRect.Create(Margin, Margin, lens.Profile.WidthPx * scale, lens.Profile.HeightPx * scale));
        int down = (int)Math.Round((double)Across * lens.Profile.HeightPx / lens.Profile.WidthPx);
        for (int j = 0; j < down; j++)
        {
            for (int i = 0; i < Across; i++)
            {
                Vec2 seen = new((i + 0.5) / Across * lens.Profile.WidthPx, (j + 0.5) / down * lens.Profile.HeightPx);
                Vec2 straight = lens.Camera.PrincipalPx + (lens.Camera.Undistort(seen) * lens.Profile.FocalPx);
                Vec2 move = (seen - straight) * times;
                SKPoint from = At(seen - move, scale);
                SKPoint to = At(seen, scale);
                if (move.Length * scale < 3)
                    continue;
                brush.Segment(from, to, Palette.Ink, 1.3f, halo: 0);
                Vec2 along = move.Normalized();
                brush.ArrowHead(to, new SKPoint((float)along.X, (float)along.Y), 7, Palette.Ink);
            }
        }

        brush.Canvas.Restore();
        return times;
    }

    private static void Words(Brush brush, LensCalibration lens, int height, double largest, double times)
    {
        LensProfile p = lens.Profile;
        string N(double v, string format) => v.ToString(format, CultureInfo.InvariantCulture);
        float y = Margin + height + 34;
        string name = new([.. p.Name.Where(c => !char.IsControl(c)).Take(60)]);
        brush.Text($"{name}: {p.WidthPx} × {p.HeightPx} px, focal length {N(p.FocalPx, "0.0")} ± {N(2 * lens.Sd[0], "0.0")} px", new SKPoint(Margin, y), 20, Palette.Paper, bold: true);
        brush.Text(
            $"Shade: displacement by the lens, up to {N(largest, "0.0")} px. Arrows: the same, {(times > 1 ? $"{N(times, "0")} times as long" : "to scale")}. Dots: corners measured.",
            new SKPoint(Margin, y + 32), 17, Palette.Quiet);
        brush.Text(
            $"{lens.Views.Count} views, residual {N(p.RmsPx, "0.00")} px, {N(100 * lens.Coverage, "0")} % of the picture covered, boards turned by up to {N(lens.TurnDeg, "0")}°.",
            new SKPoint(Margin, y + 60), 17, Palette.Quiet);
    }
}

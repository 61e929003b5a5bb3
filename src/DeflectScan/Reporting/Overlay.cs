using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Reporting.Drawing;
using OpenCvSharp;
using SkiaSharp;

namespace DeflectScan.Reporting;

/// <summary>
/// The photo with what was measured drawn in: centreline, line, rings, each pair's largest gap in mm, the suggested layout, the cards;
/// words above and below, so that they hide nothing.
/// </summary>
public static class Overlay
{
    /// <summary>Draws the overlay as a PNG file's bytes; the same photo and measurement give the same bytes.</summary>
    public static byte[] Draw(UprightPhoto photo, Measurement m, OverlayOptions? options = null)
    {
        OverlayOptions o = options ?? new OverlayOptions();
        InfoStrip head = Head(m);
        InfoStrip foot = Foot(m, o);
        (int photoWidthPx, int photoHeightPx) = (photo.Bgr.Cols, photo.Bgr.Rows);
        double wholeHeight = ((double)photoHeightPx / photoWidthPx) + ((head.HeightWithMargin + foot.HeightWithMargin) / 1000);
        int widthPx = Math.Max(1, (int)Math.Min(photoWidthPx, o.MaxSidePx / Math.Max(1, wholeHeight)));
        double scale = (double)widthPx / photoWidthPx;
        int heightPx = Math.Max(1, (int)Math.Round(photoHeightPx * scale));
        float unit = widthPx / 1000f;
        int top = (int)Math.Ceiling(head.HeightWithMargin * unit);
        int below = (int)Math.Ceiling(foot.HeightWithMargin * unit);

        using Picture picture = new(widthPx, top + heightPx + below);
        using (Mat small = Shrink(photo.Bgr, widthPx, heightPx))
            picture.Lay(small, 0, top);

        picture.Brush.Canvas.Save();
        picture.Brush.Canvas.ClipRect(new SKRect(0, top, widthPx, top + heightPx));
        Box frame = new(new Vec2(widthPx / 2.0, top + (heightPx / 2.0)), widthPx, heightPx);
        Marks(m, new RodSketch(m, scale, top), picture.Brush, frame.Grown(-4 * unit));
        picture.Brush.Canvas.Restore();
        head.Draw(picture.Brush, 0);
        foot.Draw(picture.Brush, top + heightPx);
        return picture.ToPng();
    }

    /// <summary>First by a whole number, averaging (fast), then the small rest between pixels. Dispose it.</summary>
    private static Mat Shrink(Mat bgr, int widthPx, int heightPx)
    {
        int times = Math.Max(1, bgr.Cols / widthPx);
        Mat small = new();
        if (times == 1)
        {
            Cv2.Resize(bgr, small, new OpenCvSharp.Size(widthPx, heightPx), 0, 0, InterpolationFlags.Area);
            return small;
        }

        using Mat coarse = new();
        Cv2.Resize(bgr, coarse, new OpenCvSharp.Size(bgr.Cols / times, bgr.Rows / times), 0, 0, InterpolationFlags.Area);
        Cv2.Resize(coarse, small, new OpenCvSharp.Size(widthPx, heightPx), 0, 0, InterpolationFlags.Linear);
        return small;
    }

    private static void Marks(Measurement m, RodSketch sketch, Brush brush, Box frame)
    {
        OverlayMarks marks = new(m, sketch, brush);
        marks.Cards();
        if (sketch.Axis.Count < 2)
            return;
        marks.Axis();
        marks.Ghost();
        marks.Line();
        OverlayLabels labels = new(m, sketch, marks, brush, frame);
        labels.DrawLeaders();
        foreach (IntervalReport pair in m.Intervals.OrderBy(p => p.From == m.Largest?.GapFrom))
            marks.GapBar(pair, pair.From == m.Largest?.GapFrom);
        foreach (IntervalReport pair in m.Intervals.Where(p => p.TouchesBlank))
            marks.Touch(pair);
        marks.Rings();
        labels.Draw();
    }

    private static InfoStrip Head(Measurement m)
    {
        InfoStrip strip = new();
        strip.Add(OverlayWords.Headline(m), 32, Palette.Paper, bold: true, StatusIcon.For(m.Status));
        if (OverlayWords.Bow(m) is { } bow)
            strip.Add(bow, 26, Palette.Paper);
        foreach (string warning in OverlayWords.Warnings(m))
            strip.Add(warning, 26, Palette.Line, icon: m.Status == MeasurementStatus.Refused ? StatusIcon.Refused : StatusIcon.Review);
        if (OverlayWords.Scale(m) is { } scale)
            strip.Add(scale, 23, Palette.Quiet);
        return strip;
    }

    private static InfoStrip Foot(Measurement m, OverlayOptions o)
    {
        InfoStrip strip = new();
        if (OverlayWords.Suggestion(m, o.Unit) is { } suggestion)
            strip.Add(suggestion, 26, Palette.Paper);
        IReadOnlyList<LegendKey> keys = OverlayLegend.Keys(m);
        if (keys.Count > 0)
            strip.AddKeys(keys, 23, 42);
        return strip;
    }
}

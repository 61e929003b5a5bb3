using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Reporting.Drawing;

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
        return AnnotatedPhoto.Draw(photo, Head(m), Foot(m, o), o.MaxSidePx, (brush, scale, top, frame) => Marks(m, new RodSketch(m, scale, top), brush, frame));
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
        foreach (IntervalReport pair in m.Intervals.OrderBy(p => OverlayWords.IsMarked(m, p)))
            marks.GapBar(pair, OverlayWords.IsMarked(m, pair));
        foreach (IntervalReport pair in m.Intervals.Where(p => p.TouchesBlank))
            marks.Touch(pair);
        marks.Rings();
        labels.Draw();
    }

    private static InfoStrip Head(Measurement m)
    {
        InfoStrip strip = new();
        strip.Add(OverlayWords.Headline(m), 32, Palette.Paper, bold: true, StatusIcon.For(m.Status));
        if (OverlayWords.Largest(m) is { } largest)
            strip.Add(largest, 26, Palette.Paper);
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

using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Reporting.Cards;
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
        return AnnotatedPhoto.Draw(photo, o.IsBare ? new InfoStrip() : OverlayHead.Of(m, o), o.IsBare ? new InfoStrip() : Foot(m, o), o.MaxSidePx, (brush, scale, top, frame) => Marks(m, o.Unit, new RodSketch(m, scale, top), brush, frame));
    }

    private static void Marks(Measurement m, LengthUnit unit, RodSketch sketch, Brush brush, Box frame)
    {
        OverlayMarks marks = new(m, sketch, brush);
        marks.Cards();
        if (sketch.Axis.Count < 2)
            return;
        marks.Axis();
        marks.Ghost();
        marks.Line();
        OverlayLabels labels = new(m, sketch, marks, brush, frame, unit);
        labels.DrawLeaders();
        foreach (IntervalReport pair in m.Intervals)
            marks.GapBar(pair);
        marks.Worst();
        foreach (IntervalReport pair in m.Intervals.Where(p => p.TouchesBlank))
            marks.Touch(pair);
        marks.Rings();
        marks.Doubts();
        labels.Draw();
    }

    private static InfoStrip Foot(Measurement m, OverlayOptions o)
    {
        InfoStrip strip = new();
        if (OverlayWords.Suggestion(m, o.Unit) is { } suggestion)
            strip.Add(suggestion, 26, Palette.Paper);
        IReadOnlyList<LegendKey> keys = OverlayLegend.Keys(m, o.Unit);
        if (keys.Count > 0)
            strip.AddKeys(keys, 23, 42);
        return strip;
    }
}

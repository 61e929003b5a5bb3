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
    /// <summary>Lines above the picture: it is to be seen, not read.</summary>
    public const int MostLines = 6;

    /// <summary>Draws the overlay as a PNG file's bytes; the same photo and measurement give the same bytes.</summary>
    public static byte[] Draw(UprightPhoto photo, Measurement m, OverlayOptions? options = null)
    {
        OverlayOptions o = options ?? new OverlayOptions();
        return AnnotatedPhoto.Draw(photo, Head(m, o), Foot(m, o), o.MaxSidePx, (brush, scale, top, frame) => Marks(m, o.Unit, new RodSketch(m, scale, top), brush, frame));
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
        foreach (IntervalReport pair in m.Intervals.OrderBy(p => OverlayWords.IsMarked(m, p)))
            marks.GapBar(pair, OverlayWords.IsMarked(m, pair));
        foreach (IntervalReport pair in m.Intervals.Where(p => p.TouchesBlank))
            marks.Touch(pair);
        marks.Rings();
        marks.Doubts();
        labels.Draw();
    }

    private static InfoStrip Head(Measurement m, OverlayOptions o)
    {
        InfoStrip strip = new();
        strip.Add(OverlayWords.Headline(m, o.Unit), 32, Palette.Paper, bold: true, StatusIcon.For(m.Status));
        if (OverlayWords.Largest(m, o.Unit) is { } largest)
            strip.Add(largest, 26, Palette.Paper);
        string? scale = OverlayWords.Scale(m);
        StatusIcon icon = m.Status == MeasurementStatus.Refused ? StatusIcon.Refused : StatusIcon.Review;
        string[] warnings = [.. OverlayWords.Warnings(m).Select(w => UnitsInSentences.Of(w, o.Unit))];
        for (int i = 0; i < warnings.Length; i++)
        {
            int room = MostLines - strip.Lines - (scale is null ? 0 : 1);
            bool isLast = i == warnings.Length - 1;
            if (room <= (isLast ? 0 : 1))
            {
                strip.Add($"and {warnings.Length - i} more: the list beside this picture has all", 26, Palette.Line, icon: icon);
                break;
            }

            strip.Add(warnings[i], 26, Palette.Line, icon: icon, mostLines: isLast ? room : room - 1);
        }

        if (scale is not null)
            strip.Add(scale, 23, Palette.Quiet);
        return strip;
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

using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Tracing;
using SkiaSharp;

namespace DeflectScan.Reporting;

/// <summary>The overlay's legend: only what the picture shows, each drawn as it is drawn there.</summary>
internal static class OverlayLegend
{
    public static IReadOnlyList<LegendKey> Keys(Measurement m, LengthUnit unit = LengthUnit.Millimetres)
    {
        List<LegendKey> keys = [];
        if (m.Blank is null)
            return keys;
        keys.Add(new("blank", (b, from, to) => b.Segment(from, to, Palette.Axis, 2.2f, OverlayMarks.AxisDash)));
        if (m.Intervals.Count > 0)
            keys.Add(new("line", (b, from, to) => b.Segment(from, to, Palette.Line, 2)));
        if (m.Intervals.Any(p => p.Source == Source.Inferred))
            keys.Add(new("line, not seen", (b, from, to) => b.Segment(from, to, Palette.Line, 2, OverlayMarks.InferredDash)));
        if (m.Guides.Count > 0)
            keys.Add(new(m.Guides.Any(g => g.IsTip) ? "ring (T: tip-top)" : "ring", (b, from, to) => b.Circle(Middle(from, to), 7, Palette.Paper, 2)));
        if (m.Intervals.Count > 1)
            keys.Add(new($"gap, {UnitsInSentences.Name(unit)}", (b, from, to) => Bar(b, from, to, Palette.Gap, 3)));
        if (Worst(m) is { } worst)
            keys.Add(worst);
        if (m.Intervals.Any(p => p.TouchesBlank))
            keys.Add(new("line touches blank", (b, from, to) => OverlayMarks.Cross(b, Middle(from, to))));
        if (NumberedFindings.Of(m.Findings).Any(f => f.Mark is not null))
            keys.Add(new("in doubt", (b, from, to) => b.Circle(Middle(from, to), 8, Palette.Line, 2.2f, OverlayMarks.DoubtDash)));
        if (OverlayMarks.Suggests(m))
            keys.Add(new("suggested", (b, from, to) => Suggested(b, from, to)));
        return keys;
    }

    /// <summary>The figure by which a pair follows worst; null where none is marked.</summary>
    public static LegendKey? Worst(Measurement m) =>
        WorstFigure.Of(m) is { } worst ? new($"follows worst, by {worst.Name}", (b, from, to) => Bar(b, from, to, Palette.Largest, 5)) : null;

    private static SKPoint Middle(SKPoint a, SKPoint b) => new((a.X + b.X) / 2, (a.Y + b.Y) / 2);

    private static void Bar(Brush brush, SKPoint from, SKPoint to, SKColor colour, float width)
    {
        SKPoint tick = new(0, 8 * brush.Unit);
        brush.Segment(from, to, colour, width);
        brush.Segment(from - tick, from + tick, colour, width * 0.7f);
        brush.Segment(to - tick, to + tick, colour, width * 0.7f);
    }

    private static void Suggested(Brush brush, SKPoint from, SKPoint to)
    {
        brush.Segment(from, to, Palette.Ghost, 2.2f, OverlayMarks.GhostDash);
        brush.Circle(Middle(from, to), 7, Palette.Ghost, 2.2f, [3, 2]);
    }
}

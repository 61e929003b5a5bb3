using DeflectScan.Geometry;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Tracing;
using SkiaSharp;

namespace DeflectScan.Reporting.Unrolled;

/// <summary>The labels beside the band, laid out before the picture's height is known: guides on one side, gaps on the other.</summary>
internal sealed class StripLanes
{
    private const float GuideRow = 64;
    private const float GapRow = 58;
    private readonly Measurement _measurement;
    private readonly Unrolling _unrolling;
    private readonly float _unit;
    private readonly LengthUnit _lengths;
    private readonly IReadOnlyList<(double X, int Row)> _guides;
    private readonly Shown[] _figures;
    private readonly IReadOnlyList<(double X, int Row)> _places;

    public StripLanes(Measurement m, Unrolling unrolling, LengthUnit lengths = LengthUnit.Millimetres)
    {
        _lengths = lengths;
        _measurement = m;
        _unrolling = unrolling;
        _unit = unrolling.WidthPx / 1000f;
        _guides = Lane.Arrange(
            [.. unrolling.RingsMm.Select((r, i) => (unrolling.ToStrip(r).X, Math.Max(34 * _unit, Typefaces.Width(Station(m.Guides[i]), 23 * _unit) + (4 * _unit))))],
            4 * _unit, unrolling.WidthPx);
        _figures =
        [
            .. m.Intervals.Select(p => new Shown(UnitsInSentences.Bare(p.GapMm, lengths), p.GapAtMm, StripMarks.GapEnds(unrolling, m, p).To, IsWorst: false)),
            .. WorstFigure.Of(m) is { } worst ? (Shown[])[new(worst.Whole(lengths), worst.AtMm, StripMarks.WorstEnds(unrolling, m, worst).To, IsWorst: true)] : [],
        ];
        _places = Lane.Arrange(
            [.. _figures.Select(f => (unrolling.ToStrip(new Vec2(f.AtMm, 0)).X, Typefaces.Width(f.Text, f.Size * _unit, bold: true) + (14.0 * _unit)))],
            4 * _unit, unrolling.WidthPx);
        GuideHeight = 10 + (GuideRow * Rows(_guides));
        GapHeight = 12 + (GapRow * Rows(_places));
    }

    /// <summary>Heights of the lanes in units.</summary>
    public float GuideHeight { get; }

    public float GapHeight { get; }

    /// <summary>Numbers and stations of the guides.</summary>
    /// <param name="brush">Of the picture.</param>
    /// <param name="edge">y of the band's edge that the lane lies along, px.</param>
    /// <param name="bandTop">y of the band's upper edge, px.</param>
    /// <param name="down">Whether the lane lies below the band.</param>
    public void DrawGuides(Brush brush, float edge, float bandTop, bool down)
    {
        float way = down ? _unit : -_unit;
        for (int i = 0; i < _guides.Count; i++)
        {
            GuideReport guide = _measurement.Guides[i];
            (float x, float y) = ((float)_guides[i].X, edge + (way * (24 + (GuideRow * _guides[i].Row))));
            // The foot's place is the ring's station on the axis.
            Vec2 foot = _unrolling.ToStrip(new Vec2(_unrolling.RingsMm[i].X, 0));
            brush.Segment(new SKPoint((float)foot.X, bandTop + (float)foot.Y), new SKPoint(x, y), Palette.Paper, 1.1f, [3, 2.5f], halo: 0.6f);
        }

        for (int i = 0; i < _guides.Count; i++)
        {
            GuideReport guide = _measurement.Guides[i];
            SKPoint at = new((float)_guides[i].X, edge + (way * (24 + (GuideRow * _guides[i].Row))));
            string text = Station(guide);
            SKPoint words = at + new SKPoint(0, way * 30);
            float half = (brush.Width(text, 23) / 2) + (2 * _unit);
            brush.Box(new SKRect(words.X - half, words.Y - (12 * _unit), words.X + half, words.Y + (12 * _unit)), Palette.Panel, 2);
            brush.Box(new SKRect(at.X - (17 * _unit), at.Y - (17 * _unit), at.X + (17 * _unit), at.Y + (17 * _unit)), Palette.Paper, 17);
            brush.TextCentred(OverlayWords.Badge(guide), at, 25, Palette.Ink, bold: true);
            brush.TextCentred(text, words, 23, Palette.Paper);
        }
    }

    /// <summary>Each pair's gap, and the figure that the headline names with its uncertainty; parameters as for the guides.</summary>
    public void DrawGaps(Brush brush, float edge, float bandTop, bool down)
    {
        float way = down ? _unit : -_unit;
        for (int pass = 0; pass < 2; pass++)
        {
            for (int i = 0; i < _figures.Length; i++)
            {
                SKPoint at = new((float)_places[i].X, edge + (way * (30 + (GapRow * _places[i].Row))));
                if (pass == 0)
                    Leader(brush, _figures[i], at, bandTop);
                else
                    Figure(brush, _figures[i], at);
            }
        }
    }

    private void Leader(Brush brush, Shown shown, SKPoint at, float bandTop)
    {
        Vec2 end = _unrolling.ToStrip(shown.End);
        brush.Segment(new SKPoint((float)end.X, bandTop + (float)end.Y), at, shown.IsWorst ? Palette.Largest : Palette.Gap, 1.4f, halo: 0.6f);
    }

    private void Figure(Brush brush, Shown shown, SKPoint at)
    {
        float half = (brush.Width(shown.Text, shown.Size, bold: true) / 2) + (6 * _unit);
        brush.Box(
            new SKRect(at.X - half, at.Y - (shown.Size * 0.66f * _unit), at.X + half, at.Y + (shown.Size * 0.66f * _unit)),
            shown.IsWorst ? Palette.Largest : Palette.Panel, 5, shown.IsWorst ? Palette.Paper : Palette.Gap, 1.6f);
        brush.TextCentred(shown.Text, at, shown.Size, Palette.Paper, bold: true);
    }

    private static int Rows(IReadOnlyList<(double X, int Row)> lane) => lane.Count == 0 ? 0 : lane.Max(l => l.Row) + 1;

    private string Station(GuideReport guide) => guide.IsTip ? "0"
        : $"{(_lengths == LengthUnit.Millimetres ? $"{guide.StationMm:0}" : UnitsText.Sixteenths(guide.StationMm)[..^3])}{(guide.Source == Source.Inferred ? "?" : "")}";

    /// <summary>A figure of the lane: its words, its station, and the point (station, distance up) that its leader runs to.</summary>
    private sealed record Shown(string Text, double AtMm, Vec2 End, bool IsWorst)
    {
        public float Size => IsWorst ? 30 : 26;
    }
}

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
    private readonly IReadOnlyList<(double X, int Row)> _gaps;

    public StripLanes(Measurement m, Unrolling unrolling, LengthUnit lengths = LengthUnit.Millimetres)
    {
        _lengths = lengths;
        _measurement = m;
        _unrolling = unrolling;
        _unit = unrolling.WidthPx / 1000f;
        _guides = Lane.Arrange(
            [.. unrolling.RingsMm.Select((r, i) => (unrolling.ToStrip(r).X, Math.Max(34 * _unit, Typefaces.Width(Station(m.Guides[i]), 23 * _unit) + (4 * _unit))))],
            4 * _unit, unrolling.WidthPx);
        _gaps = Lane.Arrange(
            [.. m.Intervals.Select(p => (unrolling.ToStrip(new Vec2(p.GapAtMm, 0)).X, Typefaces.Width(GapText(p), GapSize(p) * _unit, bold: true) + (14.0 * _unit)))],
            4 * _unit, unrolling.WidthPx);
        GuideHeight = 10 + (GuideRow * Rows(_guides));
        GapHeight = 12 + (GapRow * Rows(_gaps));
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

    /// <summary>Each pair's gap in mm with its uncertainty; parameters as for the guides.</summary>
    public void DrawGaps(Brush brush, float edge, float bandTop, bool down)
    {
        float way = down ? _unit : -_unit;
        for (int pass = 0; pass < 2; pass++)
        {
            for (int i = 0; i < _gaps.Count; i++)
            {
                IntervalReport pair = _measurement.Intervals[i];
                SKPoint at = new((float)_gaps[i].X, edge + (way * (30 + (GapRow * _gaps[i].Row))));
                if (pass == 0)
                    Leader(brush, pair, at, bandTop);
                else
                    Figure(brush, pair, at);
            }
        }
    }

    private void Leader(Brush brush, IntervalReport pair, SKPoint at, float bandTop)
    {
        Vec2 end = _unrolling.ToStrip(StripMarks.GapEnds(_unrolling, _measurement, pair).OnLine);
        brush.Segment(
            new SKPoint((float)end.X, bandTop + (float)end.Y), at, IsLargest(pair) ? Palette.Largest : Palette.Gap, 1.4f, halo: 0.6f);
    }

    private void Figure(Brush brush, IntervalReport pair, SKPoint at)
    {
        bool largest = IsLargest(pair);
        float size = GapSize(pair);
        float half = (brush.Width(GapText(pair), size, bold: true) / 2) + (6 * _unit);
        brush.Box(
            new SKRect(at.X - half, at.Y - (size * 0.66f * _unit), at.X + half, at.Y + (size * 0.66f * _unit)),
            largest ? Palette.Largest : Palette.Panel, 5, largest ? Palette.Paper : Palette.Gap, 1.6f);
        brush.TextCentred(GapText(pair), at, size, Palette.Paper, bold: true);
    }

    private static int Rows(IReadOnlyList<(double X, int Row)> lane) => lane.Count == 0 ? 0 : lane.Max(l => l.Row) + 1;

    private string Station(GuideReport guide) => guide.IsTip ? "0"
        : $"{(_lengths == LengthUnit.Millimetres ? $"{guide.StationMm:0}" : UnitsText.Sixteenths(guide.StationMm)[..^3])}{(guide.Source == Source.Inferred ? "?" : "")}";

    private string GapText(IntervalReport pair) => IsLargest(pair) ? UnitsInSentences.Figure(pair.GapMm, pair.GapUncertaintyMm, _lengths) : UnitsInSentences.Bare(pair.GapMm, _lengths);

    private float GapSize(IntervalReport pair) => IsLargest(pair) ? 30 : 26;

    private bool IsLargest(IntervalReport pair) => OverlayWords.IsMarked(_measurement, pair);
}

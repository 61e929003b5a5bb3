using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Tracing;
using SkiaSharp;

namespace DeflectScan.Reporting;

/// <summary>The marks of the overlay that lie on the rod itself: cards, centreline, line, rings, gaps, the suggested layout.</summary>
internal sealed class OverlayMarks(Measurement m, RodSketch sketch, Brush brush)
{
    /// <summary>Line styles of the roles: on and off lengths in units.</summary>
    public static readonly float[] AxisDash = [11, 4, 2.5f, 4];
    public static readonly float[] GhostDash = [5, 3.5f];
    public static readonly float[] InferredDash = [1.6f, 3];
    public static readonly float[] DoubtDash = [3, 2];
    public static readonly float[] ChordDash = [4, 2.5f];
    public const float RingRadius = 4.6f;

    public void Cards()
    {
        foreach (CardReport card in m.Calibration?.Cards ?? [])
        {
            if (card.OutlinePx.Count < 3)
                continue;
            SKPoint[] corners = [.. card.OutlinePx.Select(p => sketch.OnCanvas(p).ToSk())];
            brush.Outline(corners, Palette.Paper, 1.2f, [7, 4], halo: 0.5f);
            Vec2 middle = sketch.OnCanvas(card.OutlinePx.Aggregate((a, b) => a + b) / card.OutlinePx.Count);
            brush.TextCentred($"{card.Letter}", middle.ToSk(), 30, Palette.Paper, bold: true, halo: true);
        }
    }

    public void Axis() => brush.Polyline(sketch.AxisPoints, Palette.Axis, 1.5f, AxisDash, halo: 0.7f);

    public void Line()
    {
        foreach (IntervalReport pair in m.Intervals)
        {
            float[]? dash = pair.Source == Source.Inferred ? InferredDash : null;
            brush.Segment(sketch.Ring(pair.From).ToSk(), sketch.Ring(pair.To).ToSk(), Palette.Line, 1.3f, dash, halo: 0.6f);
        }
    }

    public void Rings()
    {
        foreach (GuideReport g in m.Guides)
        {
            SKPoint at = sketch.Ring(g.Index).ToSk();
            if (g.IsTip)
            {
                float r = RingRadius * brush.Unit;
                brush.Outline(
                    [new(at.X, at.Y - r), new(at.X + r, at.Y), new(at.X, at.Y + r), new(at.X - r, at.Y)], Palette.Paper, 1.5f, halo: 0.8f);
            }
            else
            {
                brush.Circle(at, RingRadius, Palette.Paper, 1.5f, g.Source == Source.Inferred ? InferredDash : null, halo: 0.8f);
            }
        }
    }

    /// <summary>A pair's gap as a bar with ends, square to the blank, at the place where it is largest.</summary>
    public void GapBar(IntervalReport pair)
    {
        (Vec2 onBlank, Vec2 onLine) = sketch.GapEnds(pair);
        Bar(onBlank, onLine, Palette.Gap, 2.4f, 4);
    }

    /// <summary>The figure by which a pair follows worst: its clearance between blank and line, or its bow off the straight chord, which is drawn, too.</summary>
    public void Worst()
    {
        if (WorstFigure.Of(m) is not { } worst)
            return;
        if (!worst.IsClearance)
            brush.Segment(sketch.OnAxis(worst.Pair.From).ToSk(), sketch.OnAxis(worst.Pair.To).ToSk(), Palette.Largest, 1.1f, ChordDash, halo: 0.5f);
        (Vec2 from, Vec2 to) = worst.Ends(sketch);
        Bar(from, to, Palette.Largest, 4, 6);
    }

    private void Bar(Vec2 from, Vec2 to, SKColor colour, float width, double tickUnits)
    {
        Vec2 tick = (to.DistanceTo(from) > 1e-6 ? (to - from).Normalized().Perpendicular : new Vec2(1, 0)) * (tickUnits * brush.Unit);
        brush.Segment(from.ToSk(), to.ToSk(), colour, width);
        brush.Segment((from + tick).ToSk(), (from - tick).ToSk(), colour, width * 0.7f);
        brush.Segment((to + tick).ToSk(), (to - tick).ToSk(), colour, width * 0.7f);
    }

    /// <summary>A cross where the line lies on the blank.</summary>
    public void Touch(IntervalReport pair)
    {
        Vec2 at = sketch.Point(pair.ClearanceAtMm);
        Cross(brush, at.ToSk());
    }

    /// <summary>What a person should look at: a stretch of the blank, or a ring around a place on it.</summary>
    public void Doubts()
    {
        foreach (FindingPlace place in NumberedFindings.Of(m.Findings).Where(f => f.Mark is not null).SelectMany(f => f.Finding.Places))
        {
            if (place.ToMm > place.FromMm)
            {
                const int Steps = 24;
                SKPoint[] stretch = [.. Enumerable.Range(0, Steps + 1).Select(i => sketch.Point(place.FromMm + ((place.ToMm - place.FromMm) * i / Steps)).ToSk())];
                brush.Polyline(stretch, Palette.Line, 4, DoubtDash, halo: 0.8f);
            }
            else
            {
                brush.Circle(sketch.Point(place.MiddleMm).ToSk(), 2 * RingRadius, Palette.Line, 1.8f, DoubtDash, halo: 0.8f);
            }
        }
    }

    public static void Cross(Brush brush, SKPoint at)
    {
        float r = 4.5f * brush.Unit;
        foreach (SKPoint d in (SKPoint[])[new(r, r), new(r, -r)])
            brush.Segment(at + d, at - d, Palette.Gap, 1.8f, halo: 0.8f);
    }

    /// <summary>The suggested line where it differs (wider than the line, which is drawn over it), the added ring with its foot, and an arrow for every move.</summary>
    public void Ghost()
    {
        if (m.Suggestion is not { } s || !Suggests(m))
            return;
        for (int i = 1; i < s.Layout.Count; i++)
        {
            if (Changed(s, s.Layout[i - 1]) || Changed(s, s.Layout[i]))
                brush.Segment(At(s.Layout[i - 1]).ToSk(), At(s.Layout[i]).ToSk(), Palette.Ghost, 2.6f, GhostDash, halo: 0.6f);
        }

        foreach (SuggestedGuide g in s.Layout.Where(g => g.Index is null))
        {
            brush.Segment(sketch.Point(g.StationMm).ToSk(), At(g).ToSk(), Palette.Ghost, 2, halo: 0.8f);
            brush.Circle(At(g).ToSk(), RingRadius * 1.5f, Palette.Ghost, 2.2f, [3, 2], halo: 0.8f);
        }

        foreach ((Vec2 from, Vec2 to) in Arrows())
        {
            Vec2 u = (to - from).Normalized();
            brush.Segment(from.ToSk(), (to - (u * (5 * brush.Unit))).ToSk(), Palette.Ghost, 1.9f, halo: 0.8f);
            brush.ArrowHead(to.ToSk(), u.ToSk(), 9, Palette.Ghost);
        }
    }

    /// <summary>The moves as arrows beside the rings, on the hollow side: true in direction, and in length where it can be seen.</summary>
    public IReadOnlyList<(Vec2 From, Vec2 To)> Arrows()
    {
        if (m.Suggestion is not { } s || !Suggests(m))
            return [];
        List<(Vec2, Vec2)> arrows = [];
        foreach (MoveReport move in s.Moves.Where(v => v.CanBeMade))
        {
            SuggestedGuide? to = s.Layout.FirstOrDefault(g => g.Index == move.Guide);
            if (to is null)
                continue;
            Vec2 aside = sketch.Outward(move.FromMm) * (-12 * brush.Unit);
            (Vec2 a, Vec2 b) = (sketch.Ring(move.Guide) + aside, At(to) + aside);
            double seen = Math.Max((b - a).Length, 15 * brush.Unit);
            arrows.Add((a, a + ((b - a).Normalized() * seen)));
        }

        return arrows;
    }

    public Vec2 At(SuggestedGuide guide) => sketch.OnCanvas(guide.RingPx);

    /// <summary>Whether there is another layout to show.</summary>
    public static bool Suggests(Measurement m) => m.Suggestion is { } s && (s.AddAtMm is not null || s.Moves.Count > 0);

    /// <summary>Whether a suggested guide is new or moved.</summary>
    public static bool Changed(SuggestionReport s, SuggestedGuide g) => g.Index is null || s.Moves.Any(v => v.CanBeMade && v.Guide == g.Index);
}

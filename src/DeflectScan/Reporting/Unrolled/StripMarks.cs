using DeflectScan.Geometry;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Tracing;
using SkiaSharp;

namespace DeflectScan.Reporting.Unrolled;

/// <summary>The marks on the band: flat axis, line as arcs, rings, gaps, the suggested layout, a bar for the heights.</summary>
internal sealed class StripMarks(Measurement m, Unrolling unrolling, Brush brush, float bandTop, LengthUnit lengths = LengthUnit.Millimetres)
{
    public void Draw()
    {
        brush.Segment(At(new Vec2(unrolling.FromMm, 0)), At(new Vec2(unrolling.ToMm, 0)), Palette.Axis, 1.5f, OverlayMarks.AxisDash, halo: 0.7f);
        Ghost();
        foreach (IntervalReport pair in m.Intervals)
        {
            Vec2[] arc = Arc(unrolling, m, pair);
            float[]? dash = pair.Source == Source.Inferred ? OverlayMarks.InferredDash : null;
            brush.Polyline([.. arc.Select(At)], Palette.Line, 1.8f, dash, halo: 0.7f);
        }

        foreach (IntervalReport pair in m.Intervals)
            Bar(GapEnds(unrolling, m, pair), Palette.Gap, 2.8f, 5);
        if (WorstFigure.Of(m) is { } worst)
        {
            if (!worst.IsClearance)
                brush.Polyline([.. Chord(unrolling, m, worst.Pair).Select(At)], Palette.Largest, 1.4f, OverlayMarks.ChordDash, halo: 0.5f);
            Bar(WorstEnds(unrolling, m, worst), Palette.Largest, 4.5f, 7);
        }

        foreach (IntervalReport pair in m.Intervals.Where(p => p.TouchesBlank))
            OverlayMarks.Cross(brush, At(new Vec2(pair.ClearanceAtMm, 0)));
        for (int i = 0; i < m.Guides.Count; i++)
            Ring(i);
        HeightBar();
    }

    /// <summary>Both ends of a pair's largest gap as (station, distance up): on the blank's surface and on the line.</summary>
    public static (Vec2 From, Vec2 To) GapEnds(Unrolling unrolling, Measurement m, IntervalReport pair) => FromSurface(unrolling, Arc(unrolling, m, pair), pair.GapAtMm);

    /// <summary>The same of the figure by which a pair follows worst: from the blank's surface to the line, or from its centre to the chord.</summary>
    public static (Vec2 From, Vec2 To) WorstEnds(Unrolling unrolling, Measurement m, WorstFigure worst)
    {
        if (worst.IsClearance)
            return FromSurface(unrolling, Arc(unrolling, m, worst.Pair), worst.AtMm);
        Vec2 onChord = AtStation(Chord(unrolling, m, worst.Pair), worst.AtMm);
        return (new Vec2(onChord.X, 0), onChord);
    }

    private static (Vec2 From, Vec2 To) FromSurface(Unrolling unrolling, Vec2[] arc, double station)
    {
        Vec2 onLine = AtStation(arc, station);
        return (new Vec2(onLine.X, unrolling.RadiusMm(onLine.X) * Math.Sign(onLine.Y)), onLine);
    }

    /// <summary>An arc's point at a station; arcs run towards the tip.</summary>
    private static Vec2 AtStation(Vec2[] arc, double station)
    {
        int i = 1;
        while (i < arc.Length - 1 && arc[i].X > station)
            i++;
        double t = (station - arc[i - 1].X) / (arc[i].X - arc[i - 1].X);
        return Vec2.Lerp(arc[i - 1], arc[i], Math.Clamp(t, 0, 1));
    }

    /// <summary>The straight chord between the blank's centres at both guides, as it runs in the strip.</summary>
    private static Vec2[] Chord(Unrolling unrolling, Measurement m, IntervalReport pair)
    {
        (double from, double to) = (m.Guides[pair.From - 1].StationMm, m.Guides[pair.To - 1].StationMm);
        return unrolling.Segment(unrolling.ToPlane(new Vec2(from, 0)), unrolling.ToPlane(new Vec2(to, 0)), from, to);
    }

    private static Vec2[] Arc(Unrolling unrolling, Measurement m, IntervalReport pair)
    {
        (GuideReport a, GuideReport b) = (m.Guides[pair.From - 1], m.Guides[pair.To - 1]);
        return unrolling.Segment(unrolling.Plane.ToPlane(a.RingPx), unrolling.Plane.ToPlane(b.RingPx), a.StationMm, b.StationMm);
    }

    private void Bar((Vec2 From, Vec2 To) ends, SKColor colour, float width, float tickUnits)
    {
        (SKPoint a, SKPoint b) = (At(ends.From), At(ends.To));
        SKPoint tick = new(tickUnits * brush.Unit, 0);
        brush.Segment(a, b, colour, width);
        brush.Segment(a - tick, a + tick, colour, width * 0.7f);
        brush.Segment(b - tick, b + tick, colour, width * 0.7f);
    }

    private void Ring(int i)
    {
        SKPoint at = At(unrolling.RingsMm[i]);
        float r = 5 * brush.Unit;
        if (m.Guides[i].IsTip)
            brush.Outline([new(at.X, at.Y - r), new(at.X + r, at.Y), new(at.X, at.Y + r), new(at.X - r, at.Y)], Palette.Paper, 1.6f, halo: 0.8f);
        else
            brush.Circle(at, 5, Palette.Paper, 1.6f, m.Guides[i].Source == Source.Inferred ? OverlayMarks.InferredDash : null, halo: 0.8f);
    }

    private void Ghost()
    {
        if (m.Suggestion is not { } s || !OverlayMarks.Suggests(m))
            return;
        for (int i = 1; i < s.Layout.Count; i++)
        {
            (SuggestedGuide a, SuggestedGuide b) = (s.Layout[i - 1], s.Layout[i]);
            if (!OverlayMarks.Changed(s, a) && !OverlayMarks.Changed(s, b))
                continue;
            Vec2[] arc = unrolling.Segment(
                unrolling.Plane.ToPlane(a.RingPx), unrolling.Plane.ToPlane(b.RingPx), a.StationMm, b.StationMm);
            brush.Polyline([.. arc.Select(At)], Palette.Ghost, 2.6f, OverlayMarks.GhostDash, halo: 0.6f);
        }

        foreach (SuggestedGuide g in s.Layout.Where(g => OverlayMarks.Changed(s, g)))
        {
            Vec2 ring = unrolling.Unroll(unrolling.Plane.ToPlane(g.RingPx), g.StationMm);
            if (g.Index is null)
                brush.Segment(At(new Vec2(ring.X, 0)), At(ring), Palette.Ghost, 2.2f, halo: 0.8f);
            brush.Circle(At(ring), g.Index is null ? 8 : 5, Palette.Ghost, g.Index is null ? 2.4f : 1.8f, [3, 2], halo: 0.8f);
        }
    }

    /// <summary>A bar of 10 or 20 mm, or of half an inch or one, at the reel's end, on the side where no ring stands higher.</summary>
    private void HeightBar()
    {
        bool tall = Math.Max(unrolling.TopMm, -unrolling.BottomMm) > 28;
        double mm = lengths == LengthUnit.Inches ? (tall ? UnitsText.MmPerInch : UnitsText.MmPerInch / 2) : Math.Max(unrolling.TopMm, -unrolling.BottomMm) > 24 ? 20 : 10;
        double end = unrolling.GuidesUp ? mm : -mm;
        double s = unrolling.ToMm - (9 * brush.Unit / unrolling.PxPerMm);
        (SKPoint a, SKPoint b) = (At(new Vec2(s, 0)), At(new Vec2(s, end)));
        SKPoint tick = new(5 * brush.Unit, 0);
        brush.Segment(a, b, Palette.Paper, 1.5f);
        brush.Segment(a - tick, a + tick, Palette.Paper, 1.5f);
        brush.Segment(b - tick, b + tick, Palette.Paper, 1.5f);
        string words = lengths == LengthUnit.Inches ? UnitsText.Sixteenths(mm) : $"{mm:0} mm";
        float width = brush.Width(words, 21);
        float x = unrolling.TipRight ? a.X + (8 * brush.Unit) : a.X - (8 * brush.Unit) - width;
        brush.Text(words, new SKPoint(x, ((a.Y + b.Y) / 2) + (7 * brush.Unit)), 21, Palette.Paper, halo: true);
    }

    private SKPoint At(Vec2 unrolledMm) => unrolling.ToStrip(unrolledMm).ToSk() + new SKPoint(0, bandTop);
}

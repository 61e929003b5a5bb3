using DeflectScan.Geometry;
using DeflectScan.Teaching;

namespace DeflectScan.Reporting.Boards;

/// <summary>A rod's straightened strip at the board's scale: the blank as a bar with the tip on the right, line and rings above it, bows below it.</summary>
internal static class StripDrawing
{
    private const int BowPieces = 12;

    /// <param name="sketch">Where.</param>
    /// <param name="strip">The rod.</param>
    /// <param name="scale">The board's.</param>
    /// <param name="tipX">Where the tip's end is.</param>
    /// <param name="baseY">Where the blank lies.</param>
    /// <param name="targetMm">The largest bow asked for; null for none.</param>
    public static void Draw(Sketch sketch, RodStrip strip, StripScale scale, double tipX, double baseY, double? targetMm)
    {
        Place place = new(scale, tipX, baseY);
        sketch.Box(place.X(strip.LengthMm), baseY - 1, strip.LengthMm * scale.PerMm, 2, Tone.Blank);
        for (int i = 0; i < strip.Pairs.Count; i++)
        {
            StripPair pair = strip.Pairs[i];
            sketch.Stroke([.. pair.Line.Select(p => new Vec2(place.X(p.X), place.Y(p.Y)))], Tone.Line, 1.1, pair.InDoubt);
            if (pair.IsRunning)
                Bow(sketch, strip, i, place);
        }

        if (targetMm is { } target && strip.Pairs.Any(p => p.IsRunning))
        {
            double held = strip.Rings[Enumerable.Range(0, strip.Pairs.Count).First(i => strip.Pairs[i].IsRunning)].StationMm;
            sketch.Line(place.X(held), place.Below(target), tipX, place.Below(target), Tone.Target, 1.3, isDashed: true);
        }

        foreach (StripRing ring in strip.Rings)
        {
            sketch.Line(place.X(ring.StationMm), baseY, place.X(ring.StationMm), place.Y(ring.HeightMm), Tone.Blank, 0.6);
            sketch.Dot(place.X(ring.StationMm), place.Y(ring.HeightMm), 2, Tone.Ink, 0.9, Tone.Ground);
        }
    }

    /// <summary>The instructor's own rod behind it: faint and dashed, rings as short strokes.</summary>
    public static void DrawFaint(Sketch sketch, RodStrip strip, StripScale scale, double tipX, double baseY)
    {
        Place place = new(scale, tipX, baseY);
        foreach (StripPair pair in strip.Pairs)
            sketch.Stroke([.. pair.Line.Select(p => new Vec2(place.X(p.X), place.Y(p.Y)))], Tone.Faint, 0.8, isDashed: true);
        foreach (StripRing ring in strip.Rings)
            sketch.Line(place.X(ring.StationMm), baseY, place.X(ring.StationMm), place.Y(ring.HeightMm), Tone.Faint, 0.9);
    }

    /// <summary>Stations under the strips.</summary>
    public static void Ruler(Sketch sketch, StripScale scale, double tipX, double y, LengthUnit unit)
    {
        (double step, int each) = unit == LengthUnit.Millimetres ? (100, 2) : (4 * UnitsText.MmPerInch, 2);
        for (int i = 0; i * step <= scale.LengthMm; i++)
        {
            double x = tipX - (i * step * scale.PerMm);
            sketch.Line(x, y, x, y + (i % each == 0 ? 6 : 4), Tone.Quiet, 0.8);
            if (i % each == 0)
                sketch.Words(unit == LengthUnit.Millimetres ? $"{i * 100}" : $"{i * 4}", x, y + 17, 11, Tone.Quiet, anchor: i == 0 ? Anchor.Right : Anchor.Middle);
        }
    }

    private static void Bow(Sketch sketch, RodStrip strip, int i, Place place)
    {
        bool isWorst = strip.WorstPair == i;
        (double from, double to, double bow) = (strip.Rings[i].StationMm, strip.Rings[i + 1].StationMm, strip.Pairs[i].BowMm);
        Vec2[] curve = [.. Enumerable.Range(0, BowPieces + 1).Select(k => (double)k / BowPieces).Select(t => new Vec2(place.X(from + (t * (to - from))), place.Below(4 * t * (1 - t) * bow)))];
        sketch.Stroke(curve, isWorst ? Tone.Worst : Tone.Bow, isWorst ? 2.6 : 1.2, strip.Pairs[i].InDoubt);
    }

    /// <summary>Where a station and a height lie.</summary>
    private sealed record Place(StripScale Scale, double TipX, double BaseY)
    {
        public double X(double stationMm) => TipX - (stationMm * Scale.PerMm);

        public double Y(double heightMm) => BaseY - (Math.Max(heightMm, 0) * Scale.PerMm * Scale.HeightTimes);

        public double Below(double bowMm) => BaseY + 1 + (bowMm * Scale.PerMm * Scale.BowTimes);
    }
}

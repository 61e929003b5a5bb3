using DeflectScan.Desk;
using DeflectScan.Geometry;
using DeflectScan.Layout;

namespace DeflectScan.Teaching;

/// <summary>A ring on a straightened blank, mm.</summary>
/// <param name="IsTip">It is the tip-top's.</param>
/// <param name="StationMm">From the tip.</param>
/// <param name="HeightMm">Distance of the ring point from the axis; positive whatever the side.</param>
public sealed record StripRing(bool IsTip, double StationMm, double HeightMm);

/// <summary>A pair on a straightened blank.</summary>
/// <param name="Line">The line from ring to ring as it runs over the straightened blank: (station, height) in mm.</param>
/// <param name="BowMm">Its bow.</param>
/// <param name="IsRunning">It is a running pair.</param>
/// <param name="InDoubt">Its figures are in doubt.</param>
public sealed record StripPair(IReadOnlyList<Vec2> Line, double BowMm, bool IsRunning, bool InDoubt);

/// <summary>A measured rod with its blank straightened: what a board draws. Stations from the tip, mm.</summary>
/// <param name="LengthMm">To where the blank goes into the handle.</param>
/// <param name="Rings">From the reel to the tip-top.</param>
/// <param name="Pairs">Pair i joins ring i and i + 1.</param>
/// <param name="WorstPair">Index of the pair with the largest running bow that is not in doubt; null where there is none.</param>
public sealed record RodStrip(double LengthMm, IReadOnlyList<StripRing> Rings, IReadOnlyList<StripPair> Pairs, int? WorstPair)
{
    private const int Pieces = 24;

    public double TallestMm => Rings.Max(r => r.HeightMm);

    /// <summary>The highest that the line stands over the running part.</summary>
    public double TallestRunningMm => Pairs.Where(p => p.IsRunning).SelectMany(p => p.Line).Select(p => p.Y).DefaultIfEmpty(0).Max();

    public double DeepestMm => Pairs.Where(p => p.IsRunning).Select(p => p.BowMm).DefaultIfEmpty(0).Max();

    public static RodStrip Of(MeasuredLayout rod)
    {
        Measurement m = rod.Measurement;
        int sign = rod.Shape.SignOf(rod.Side);
        StripPair[] pairs = [.. m.Intervals.Select((p, i) => new StripPair(Over(rod.Shape, rod.Rings[i], rod.Rings[i + 1], sign), p.BowMm, i >= rod.Reduction - 1, m.InDoubt(p)))];
        return new RodStrip(
            rod.Shape.LengthMm,
            [.. m.Guides.Select(g => new StripRing(g.IsTip, g.StationMm, g.HeightMm))],
            pairs,
            Enumerable.Range(0, pairs.Length).Where(i => pairs[i] is { IsRunning: true, InDoubt: false }).Cast<int?>().MaxBy(i => pairs[i!.Value].BowMm));
    }

    /// <summary>The straight line between two rings, each of its points by the axis point that lies nearest.</summary>
    private static Vec2[] Over(BlankShape shape, RingPoint a, RingPoint b, int sign) =>
        [.. Enumerable.Range(0, Pieces + 1).Select(k => (double)k / Pieces).Select(t =>
        {
            (double s, double offset) = shape.Axis.Nearest(Vec2.Lerp(a.PointMm, b.PointMm, t), a.StationMm + (t * (b.StationMm - a.StationMm)));
            return new Vec2(s, offset * sign);
        })];
}

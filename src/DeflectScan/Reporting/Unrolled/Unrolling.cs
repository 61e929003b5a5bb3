using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Tracing;

namespace DeflectScan.Reporting.Unrolled;

/// <summary>
/// The band along the blank laid out straight: x is the station, y the distance from the axis. Not mirrored: seen along the blank
/// it is the photo, turned, with the tip at the side where the photo has it.
/// </summary>
internal sealed class Unrolling
{
    private static readonly double[] Exaggerations = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10];
    private const double BeyondTipMm = 22;
    private const double BesideMm = 12;
    private readonly BlankAxis _axis;
    private readonly double _marginPx;

    public Unrolling(RodPlane plane, BlankAxis axis, Measurement m, UnrolledOptions options)
    {
        _axis = axis;
        Plane = plane;
        WidthPx = options.WidthPx;
        _marginPx = WidthPx * 0.016;
        double length = axis.Curve.Length;
        TipRight = plane.ToPhoto(axis.Curve.Point(0)).X >= plane.ToPhoto(axis.Curve.Point(length)).X;
        double firstMm = m.Guides.Count > 0 ? m.Guides[0].StationMm : axis.HandleStationMm;
        FromMm = -BeyondTipMm;
        ToMm = Math.Min(Math.Max(axis.HandleStationMm, firstMm), (firstMm * 1.07) + 45);
        PxPerMm = (WidthPx - (2 * _marginPx)) / (ToMm - FromMm);

        RingsMm = [.. m.Guides.Select(g => Unroll(plane.ToPlane(g.RingPx), g.StationMm))];
        double[] offsets = [.. RingsMm.Select(r => r.Y), 0];
        GuidesUp = offsets.Sum() >= 0;
        TopMm = Math.Max(offsets.Max() + BesideMm, BesideMm);
        BottomMm = Math.Min(offsets.Min() - BesideMm, -BesideMm);
        double fits = 0.25 * WidthPx / (TopMm - BottomMm) / PxPerMm;
        Exaggeration = Exaggerations.LastOrDefault(e => e <= Math.Min(options.MostExaggeration, fits), Exaggerations[0]);
        HeightPx = (int)Math.Ceiling((TopMm - BottomMm) * PxPerMm * Exaggeration);
    }

    public RodPlane Plane { get; }

    public int WidthPx { get; }

    /// <summary>Height of the band in px.</summary>
    public int HeightPx { get; }

    public bool TipRight { get; }

    /// <summary>Whether the rings stand above the axis in the strip.</summary>
    public bool GuidesUp { get; }

    /// <summary>Px of one mm along the blank.</summary>
    public double PxPerMm { get; }

    /// <summary>How many times taller heights are drawn than lengths.</summary>
    public double Exaggeration { get; }

    /// <summary>Stations at the strip's ends, mm from the tip.</summary>
    public double FromMm { get; }

    public double ToMm { get; }

    /// <summary>The band's edges, mm from the axis, up positive.</summary>
    public double TopMm { get; }

    public double BottomMm { get; }

    /// <summary>Each ring as (station, distance up from the axis) in mm.</summary>
    public IReadOnlyList<Vec2> RingsMm { get; }

    /// <summary>Strip px (y from the band's upper edge) of a station and a distance up from the axis.</summary>
    public Vec2 ToStrip(Vec2 unrolledMm)
    {
        double along = (unrolledMm.X - FromMm) * PxPerMm;
        double x = TipRight ? WidthPx - _marginPx - along : _marginPx + along;
        return new Vec2(x, (TopMm - unrolledMm.Y) * PxPerMm * Exaggeration);
    }

    /// <summary>Station and distance up of a strip's px.</summary>
    public Vec2 FromStrip(double x, double y)
    {
        double along = TipRight ? WidthPx - _marginPx - x : x - _marginPx;
        return new Vec2(FromMm + (along / PxPerMm), TopMm - (y / (PxPerMm * Exaggeration)));
    }

    /// <summary>Rod-plane mm of a station and a distance up from the axis.</summary>
    public Vec2 ToPlane(Vec2 unrolledMm)
    {
        double across = TipRight ? -unrolledMm.Y : unrolledMm.Y;
        return _axis.Curve.Point(unrolledMm.X) + (_axis.Curve.Normal(unrolledMm.X) * across);
    }

    /// <summary>Station and distance up from the axis of a point of the rod plane.</summary>
    public Vec2 Unroll(Vec2 planeMm, double nearStation)
    {
        (double s, double offset) = _axis.Curve.Nearest(planeMm, nearStation);
        return new Vec2(s, TipRight ? -offset : offset);
    }

    /// <summary>A straight segment of the plane as it runs in the strip: an arc of (station, distance up) points.</summary>
    public Vec2[] Segment(Vec2 fromPlaneMm, Vec2 toPlaneMm, double fromStation, double toStation)
    {
        const int Pieces = 32;
        return [.. Enumerable.Range(0, Pieces + 1).Select(i => (double)i / Pieces).Select(t =>
            Unroll(Vec2.Lerp(fromPlaneMm, toPlaneMm, t), fromStation + (t * (toStation - fromStation))))];
    }

    /// <summary>The blank's radius at a station, mm.</summary>
    public double RadiusMm(double s) => _axis.RadiusMm(s);
}

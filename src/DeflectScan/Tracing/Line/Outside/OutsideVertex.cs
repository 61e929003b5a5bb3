using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line.Outside;

/// <summary>What a vertex of the line on the outside of the bend is: a ring, a place where the line comes to lie on the blank, or an end.</summary>
/// <param name="Ring">The ring; null at the others.</param>
/// <param name="LiesOnBlank">Whether the line comes to lie on the blank there.</param>
internal sealed record OutsideVertex(StandingRing? Ring, bool LiesOnBlank)
{
    public static OutsideVertex End { get; } = new(null, false);

    public static OutsideVertex OnBlank { get; } = new(null, true);

    /// <summary>How well the middle of a stroke that is plainly a guide tells its ring's place along the blank, mm.</summary>
    private const double StrokeSdMm = 1;

    /// <summary>The same of one that is not: the ring may stand beside it.</summary>
    private const double DoubtfulStrokeSdMm = 6;

    /// <summary>How well the middle of a ring's stroke tells its place along the blank, mm.</summary>
    public static double PlaceSdMm(StandingRing ring) => OutsideTrace.IsPlain(ring) ? StrokeSdMm : DoubtfulStrokeSdMm;

    /// <summary>How well the blank's surface is known, mm.</summary>
    private const double SurfaceSdMm = 0.3;

    /// <summary>What this says of the vertex's place; null at an end.</summary>
    public VertexHold? Hold(BlankAxis axis, double side)
    {
        if (LiesOnBlank)
        {
            return now =>
            {
                (double s, double offset) = axis.Curve.Nearest(now);
                return (axis.Curve.Normal(s), (side * (axis.RadiusMm(s) + ChordBand.HalfLineMm)) - offset, SurfaceSdMm);
            };
        }

        if (Ring is not { } ring)
            return null;
        Vec2 foot = axis.Curve.Point(ring.Station);
        Vec2 along = axis.Curve.Tangent(ring.Station);
        return now => (along, along.Dot(foot - now), PlaceSdMm(ring));
    }
}

using DeflectScan.Geometry;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tracing.Line;

/// <summary>What a vertex of the line is: a ring (the tip-top's among them), a place where the line comes to lie on the blank, or an end.</summary>
/// <param name="Ring">Where the ring is expected; null at the others.</param>
/// <param name="LiesOnBlank">Whether the line comes to lie on the blank there.</param>
internal sealed record LineVertex(RingPlace? Ring, bool LiesOnBlank)
{
    /// <summary>How well the blank's surface is known, mm.</summary>
    private const double SurfaceSdMm = 0.3;

    public static LineVertex End { get; } = new(null, false);

    public static LineVertex OnBlank { get; } = new(null, true);

    /// <summary>What is known of the vertices besides the line, asked for where they now are.</summary>
    /// <param name="vertices">What they are.</param>
    /// <param name="axis">The blank.</param>
    /// <param name="insideSign">+1 where the axis' normal points to the inside of the bend.</param>
    /// <param name="side">+1 where heights of the line's side run along the axis' normal.</param>
    public static Func<IReadOnlyList<Vec2>, IReadOnlyList<VertexPull>> Pulls(IReadOnlyList<LineVertex> vertices, BlankAxis axis, double insideSign, double side) => now =>
    {
        List<VertexPull> pulls = [];
        for (int i = 0; i < now.Count; i++)
        {
            if (vertices[i].LiesOnBlank)
            {
                (double s, double offset) = axis.Curve.Nearest(now[i]);
                pulls.Add(new VertexPull(i, axis.Curve.Normal(s), (side * (axis.RadiusMm(s) + ChordBand.HalfLineMm)) - offset, SurfaceSdMm));
            }
            else if (vertices[i].Ring is { } ring)
            {
                Vec2 off = ring.Point(axis, insideSign) - now[i];
                Vec2 along = axis.Curve.Tangent(ring.Station);
                pulls.Add(new VertexPull(i, along, along.Dot(off), ring.AlongSdMm));
                pulls.Add(new VertexPull(i, along.Perpendicular, along.Perpendicular.Dot(off), ring.AcrossSdMm));
            }
        }

        return pulls;
    };
}

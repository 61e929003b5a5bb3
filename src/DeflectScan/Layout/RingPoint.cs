using DeflectScan.Geometry;

namespace DeflectScan.Layout;

/// <summary>Where the line touches a guide's ring: a vertex of the line path.</summary>
/// <param name="StationMm">Arc length from the tip of the axis point that lies nearest to the ring point.</param>
/// <param name="PointMm">The ring point in rod-plane mm.</param>
/// <param name="HeightMm">Distance from the axis in mm: positive on the inside (concave side) of the bend, negative on the outside.</param>
public readonly record struct RingPoint(double StationMm, Vec2 PointMm, double HeightMm)
{
    public GuideSide Side => HeightMm >= 0 ? GuideSide.Inside : GuideSide.Outside;

    /// <summary>The contract's height: the distance from the axis in mm, never negative.</summary>
    public double DistanceMm => Math.Abs(HeightMm);

    /// <summary>The ring point at a place seen in the rod plane.</summary>
    /// <param name="shape">The blank.</param>
    /// <param name="pointMm">Where the line touches the ring, rod-plane mm.</param>
    public static RingPoint Seen(BlankShape shape, Vec2 pointMm)
    {
        (double s, double offset) = shape.Axis.Nearest(pointMm);
        return new RingPoint(s, pointMm, offset * shape.InsideSign);
    }

    /// <summary>The ring point of a guide that would stand at a station.</summary>
    /// <param name="shape">The blank.</param>
    /// <param name="stationMm">From the tip.</param>
    /// <param name="distanceMm">Distance from the axis in mm, not negative.</param>
    /// <param name="side">Side of the bend that it stands on.</param>
    public static RingPoint At(BlankShape shape, double stationMm, double distanceMm, GuideSide side)
    {
        double height = side == GuideSide.Inside ? distanceMm : -distanceMm;
        Vec2 point = shape.Axis.Point(stationMm) + (shape.Axis.Normal(stationMm) * (height * shape.InsideSign));
        return new RingPoint(stationMm, point, height);
    }
}

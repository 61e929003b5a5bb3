using DeflectScan.Geometry;

namespace DeflectScan.Mechanics;

/// <summary>The pull at the blank's tip.</summary>
/// <param name="ForceN">Magnitude in newton, not negative.</param>
public abstract record EndLoad(double ForceN)
{
    /// <summary>The same kind of pull, <paramref name="factor"/> times as strong.</summary>
    public EndLoad Times(double factor) => this with { ForceN = ForceN * factor };
}

/// <summary>A pull that keeps its direction in the plane (a dead load: a hanging weight, a far anchor).</summary>
/// <param name="ForceN">Magnitude in newton.</param>
/// <param name="DirectionDeg">Where the force points, degrees counter-clockwise from +x.</param>
public sealed record FixedDirection(double ForceN, double DirectionDeg) : EndLoad(ForceN);

/// <summary>A cord from the tip to a fixed anchor: the pull points at the anchor wherever the tip goes.</summary>
/// <param name="ForceN">Tension in newton.</param>
/// <param name="AnchorMm">The anchor in the plane of the blank, mm.</param>
public sealed record TowardsAnchor(double ForceN, Vec2 AnchorMm) : EndLoad(ForceN);

/// <summary>A pull that turns with the tip (a follower load).</summary>
/// <param name="ForceN">Magnitude in newton.</param>
/// <param name="FromTangentDeg">Angle of the force, counter-clockwise from the tip's tangent (which points outwards); 90 is square to the tip.</param>
public sealed record FollowingTip(double ForceN, double FromTangentDeg) : EndLoad(ForceN);

/// <summary>How the blank is held, and where down is.</summary>
/// <param name="PlaceMm">The clamped section in the plane, mm.</param>
/// <param name="AngleDeg">Direction of the blank there, towards the tip, degrees counter-clockwise from +x.</param>
public sealed record Clamp(Vec2 PlaceMm, double AngleDeg)
{
    /// <summary>Unit vector of gravity in the plane; (0, -1) where y points up.</summary>
    public Vec2 Down { get; init; } = new(0, -1);

    public double AngleRad => AngleDeg * Math.PI / 180;
}

/// <summary>A force on an arm that stands on the blank: the line's push on a ring.</summary>
/// <param name="StationMm">Arc length from the tip in mm where the arm stands.</param>
/// <param name="ForceN">The force in N, in plane axes.</param>
/// <param name="ArmMm">The arm's length in mm along the blank's normal, the tip-ward tangent turned by +90 degrees; negative on the other side.</param>
public sealed record ArmForce(double StationMm, Vec2 ForceN, double ArmMm);

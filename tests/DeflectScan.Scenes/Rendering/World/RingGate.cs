using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>
/// A guide's ring in the rod plane: the disc stands across the blank, so the line's centre can pass anywhere on the straight piece
/// between the near and the far rim, each less the line's radius.
/// </summary>
/// <param name="StationMm">Station of the guide, s from the butt.</param>
/// <param name="Foot">Axis point at the station, mm.</param>
/// <param name="Away">Unit direction from the axis to the ring, across the blank.</param>
/// <param name="CentreHeightMm">Ring centre's distance from the axis.</param>
/// <param name="OuterMm">Ring's outer diameter.</param>
/// <param name="InnerMm">Ring's inner diameter.</param>
/// <param name="LineRadiusMm">Half the line's diameter.</param>
public sealed record RingGate(double StationMm, Vec2 Foot, Vec2 Away, double CentreHeightMm, double OuterMm, double InnerMm, double LineRadiusMm)
{
    public Vec2 Centre => Foot + (Away * CentreHeightMm);

    /// <summary>How far the line's centre can leave the ring's centre.</summary>
    public double PlayMm => (InnerMm / 2) - LineRadiusMm;

    /// <summary>Where the line's centre runs for <paramref name="t"/> from -1 (near rim) to 1 (far rim).</summary>
    public Vec2 At(double t) => Foot + (Away * (CentreHeightMm + (t * PlayMm)));
}

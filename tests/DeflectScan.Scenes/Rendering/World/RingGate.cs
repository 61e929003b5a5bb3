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
    /// <summary>How the guide stands when it is not plainly across the blank.</summary>
    public GuideStance? Stance { get; init; }

    public Vec2 Centre => Stance?.Centre.Flat ?? (Foot + (Away * CentreHeightMm));

    /// <summary>Middle of the piece on which the line's centre can lie, and its unit direction from the near to the far rim.</summary>
    public Vec2 Middle => Stance?.Middle ?? Centre;

    public Vec2 Disc => Stance?.Disc ?? Away;

    /// <summary>How far the line's centre can leave the middle.</summary>
    public double PlayMm => Stance?.PlayMm ?? ((InnerMm / 2) - LineRadiusMm);

    /// <summary>Where the line's centre runs for <paramref name="t"/> from -1 (near rim) to 1 (far rim).</summary>
    public Vec2 At(double t) => Stance is null ? Foot + (Away * (CentreHeightMm + (t * PlayMm))) : Middle + (Disc * (t * PlayMm));
}

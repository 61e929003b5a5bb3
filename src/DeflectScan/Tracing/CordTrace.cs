using DeflectScan.Geometry;

namespace DeflectScan.Tracing;

/// <summary>The tie-off cord as seen near the tip: a straight bar of one width.</summary>
/// <param name="NearMm">Its first seen point from the tip, rod-plane mm, on its centreline.</param>
/// <param name="FarMm">Its last seen point; the cord may go on.</param>
/// <param name="DirectionSdDeg">Standard uncertainty of its direction in the rod plane, tracing alone, degrees.</param>
/// <param name="WidthMm">Its width, mm.</param>
/// <param name="Support">Share, 0 to 1, of the length between the two points over which both its edges were seen.</param>
public sealed record CordTrace(Vec2 NearMm, Vec2 FarMm, double DirectionSdDeg, double WidthMm, double Support)
{
    public double LengthMm => NearMm.DistanceTo(FarMm);

    /// <summary>Where it pulls the tip, degrees counter-clockwise from +x of the rod plane.</summary>
    public double DirectionDeg => Math.Atan2(FarMm.Y - NearMm.Y, FarMm.X - NearMm.X) * 180 / Math.PI;
}

using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Rings;

/// <summary>Where a ring's contact is expected before the line is measured: as read from the strip, or as a person marked it.</summary>
/// <param name="Station">Along the axis from its end at the tip, mm.</param>
/// <param name="HeightMm">From the axis, positive to the inside of the bend.</param>
/// <param name="AlongSdMm">Standard uncertainty along the blank, mm.</param>
/// <param name="AcrossSdMm">Standard uncertainty across it, mm.</param>
/// <param name="Source">Traced: read from the photo; marked: a person placed it.</param>
internal sealed record RingPlace(double Station, double HeightMm, double AlongSdMm, double AcrossSdMm, Source Source)
{
    /// <summary>The place in the rod plane.</summary>
    /// <param name="axis">The blank.</param>
    /// <param name="insideSign">+1 where the axis' normal points to the inside of the bend.</param>
    public Vec2 Point(BlankAxis axis, double insideSign) => axis.Curve.Point(Station) + (axis.Curve.Normal(Station) * (insideSign * HeightMm));
}

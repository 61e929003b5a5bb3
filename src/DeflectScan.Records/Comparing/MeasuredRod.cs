using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Tracing;

namespace DeflectScan.Records.Comparing;

/// <summary>A measurement's blank and ring points in its rod plane, mm.</summary>
internal sealed record MeasuredRod(BlankShape Shape, IReadOnlyList<Vec2> RingsMm)
{
    public static MeasuredRod Of(Measurement m)
    {
        BlankShape shape = BlankShape.Through([.. m.Blank!.Axis.Select(a => a.Mm)], [.. m.Blank.Axis.Select(a => a.DiameterMm)]);
        GuideSide side = m.Side == BendSide.Outside ? GuideSide.Outside : GuideSide.Inside;
        return new MeasuredRod(shape, [.. m.Guides.Select(g => RingPoint.At(shape, g.StationMm, g.HeightMm, side).PointMm)]);
    }
}

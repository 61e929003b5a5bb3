using DeflectScan.Calibration;
using DeflectScan.Geometry;
using OpenCvSharp;

namespace DeflectScan.Tracing.Line;

/// <summary>A band of the photo along a straight way, with no blank in its middle: for what is known to be straight, the line beyond the rings.</summary>
internal static class StraightBand
{
    /// <summary>No blank: everything in the band is open.</summary>
    private const double NoDiameterMm = -1000;

    /// <param name="photoBgr">The photo.</param>
    /// <param name="plane">The rod plane.</param>
    /// <param name="from">Where the way begins, rod-plane mm.</param>
    /// <param name="direction">Its direction, of length 1.</param>
    /// <param name="lengthMm">Its length.</param>
    /// <param name="halfMm">How far the band reaches to each side.</param>
    /// <param name="stepMm">Distance of its columns.</param>
    public static BandStrip Sample(Mat photoBgr, RodPlane plane, Vec2 from, Vec2 direction, double lengthMm, double halfMm, double stepMm)
    {
        ArcCurve way = ArcCurve.Through([.. Enumerable.Range(0, 5).Select(i => from + (direction * (i * lengthMm / 4)))]);
        BlankAxis axis = new(way, [0, way.Length], [NoDiameterMm, NoDiameterMm], [0, 0], [0, 0], way.Length, 1);
        return BandStrip.Sample(photoBgr, plane, axis, 1, stepMm, (0, way.Length), (-halfMm, halfMm));
    }
}

using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Tracing;

namespace DeflectScan.Measuring.Figures;

/// <summary>
/// Expanded uncertainty (95 %) of the axis's shape: tracing noise, and what the calibration's displaced planes make of the same px once they
/// are laid on each other by the best shift and turn, since where the plane's frame lies says nothing of the shape.
/// </summary>
internal static class AxisUncertainty
{
    /// <summary>Across the axis at each station, mm.</summary>
    public static IReadOnlyList<double> Across(BlankAxis axis, IReadOnlyList<double> stations, RodPlane plane)
    {
        Vec2[] points = [.. stations.Select(axis.Curve.Point)];
        Vec2[] normals = [.. stations.Select(axis.Curve.Normal)];
        Vec2[] px = [.. points.Select(plane.ToPhoto)];
        double[] variance = [.. stations.Select(s => axis.SdMm(s) * axis.SdMm(s))];
        foreach (RodPlane variant in plane.Variants)
        {
            Vec2[] moved = [.. px.Select(variant.ToPlane)];
            RigidMotion motion = RigidMotion.Fit(moved, points);
            for (int i = 0; i < points.Length; i++)
            {
                double off = normals[i].Dot(motion.Apply(moved[i]) - points[i]);
                variance[i] += off * off;
            }
        }

        return [.. variance.Select(v => LayoutUncertainty.Coverage * Math.Sqrt(v))];
    }
}

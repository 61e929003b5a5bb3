using DeflectScan.Geometry;

namespace DeflectScan.Calibration.Lens;

/// <summary>The eight parameters of a lens in the order of the adjustment: f, cx, cy, k1, k2, p1, p2, k3.</summary>
internal static class LensModel
{
    public const int Count = 8;

    /// <summary>Difference steps for derivatives: px for the first three, pure numbers for the rest.</summary>
    public static readonly double[] Steps = [1e-2, 1e-2, 1e-2, 1e-5, 1e-5, 1e-6, 1e-6, 1e-5];

    public static CameraModel Camera(IReadOnlyList<double> x) => new(x[0], new Vec2(x[1], x[2]), x[3], x[4], x[5], x[6], x[7]);
}

/// <summary>Where a board stands before the camera: rotation (row-major 3 × 3) and translation in mm, board to camera.</summary>
internal sealed record BoardPose(double[] Rotation, double[] Translation)
{
    public const int Count = 6;

    /// <summary>Difference steps: radians, mm.</summary>
    public static readonly double[] Steps = [1e-5, 1e-5, 1e-5, 1e-2, 1e-2, 1e-2];

    /// <summary>Turned by a small rotation vector (radians, in the camera's frame) and moved (mm).</summary>
    public BoardPose Moved(ReadOnlySpan<double> by) => new(
        Rotations.Multiply(Rotations.FromVector(by[0], by[1], by[2]), Rotation),
        [Translation[0] + by[3], Translation[1] + by[4], Translation[2] + by[5]]);

    /// <summary>A board's point in pinhole coordinates (x/z, y/z).</summary>
    public Vec2 Pinhole(Vec2 mm)
    {
        double z = (Rotation[6] * mm.X) + (Rotation[7] * mm.Y) + Translation[2];
        return new Vec2(
            ((Rotation[0] * mm.X) + (Rotation[1] * mm.Y) + Translation[0]) / z,
            ((Rotation[3] * mm.X) + (Rotation[4] * mm.Y) + Translation[1]) / z);
    }

    /// <summary>Unit normal of the board in the camera's frame.</summary>
    public (double X, double Y, double Z) Normal => (Rotation[2], Rotation[5], Rotation[8]);
}

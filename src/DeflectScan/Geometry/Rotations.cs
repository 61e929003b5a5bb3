namespace DeflectScan.Geometry;

/// <summary>Rotation matrices, row-major 3 × 3.</summary>
internal static class Rotations
{
    /// <summary>Rotation by the vector's length (radians) about its direction (Rodrigues' formula).</summary>
    public static double[] FromVector(double x, double y, double z)
    {
        double angle = Math.Sqrt((x * x) + (y * y) + (z * z));
        double s = angle < 1e-9 ? 1 : Math.Sin(angle) / angle;
        double half = Math.Sin(angle / 2);
        double c = angle < 1e-9 ? 0.5 : 2 * half * half / (angle * angle);
        return
        [
            1 - (c * ((y * y) + (z * z))), (c * x * y) - (s * z), (c * x * z) + (s * y),
            (c * x * y) + (s * z), 1 - (c * ((x * x) + (z * z))), (c * y * z) - (s * x),
            (c * x * z) - (s * y), (c * y * z) + (s * x), 1 - (c * ((x * x) + (y * y))),
        ];
    }

    public static double[] Multiply(double[] a, double[] b)
    {
        double[] m = new double[9];
        for (int i = 0; i < 3; i++)
        {
            for (int j = 0; j < 3; j++)
                m[(3 * i) + j] = (a[3 * i] * b[j]) + (a[(3 * i) + 1] * b[3 + j]) + (a[(3 * i) + 2] * b[6 + j]);
        }

        return m;
    }
}

namespace DeflectScan.Imaging;

/// <summary>Weights of four neighbouring samples for a value between the middle two: cubic convolution (Keys 1981, a = -1/2), exact for parabolas.</summary>
internal static class CubicKernel
{
    /// <param name="t">Place between the second and the third sample, 0 to 1.</param>
    /// <param name="weights">4 weights are written; their sum is 1.</param>
    public static void Weights(double t, Span<double> weights)
    {
        double t2 = t * t;
        double t3 = t2 * t;
        weights[0] = (-0.5 * t3) + t2 - (0.5 * t);
        weights[1] = (1.5 * t3) - (2.5 * t2) + 1;
        weights[2] = (-1.5 * t3) + (2 * t2) + (0.5 * t);
        weights[3] = (0.5 * t3) - (0.5 * t2);
    }
}

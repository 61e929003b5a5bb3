namespace DeflectScan.Numerics;

/// <summary>A symmetric matrix with one band beside its diagonal, as L D L-transposed: in linear time, where MathNet's factors are of full matrices.</summary>
internal static class Tridiagonal
{
    /// <summary>The x for which (matrix + lift × unit) × x = -slope; null where that matrix is not positive definite.</summary>
    /// <param name="slope">Right-hand side, with its sign turned.</param>
    /// <param name="diagonal">The diagonal.</param>
    /// <param name="beside">Entries (i, i - 1); the first is not used.</param>
    /// <param name="lift">Added to the diagonal.</param>
    public static double[]? Solve(double[] slope, double[] diagonal, double[] beside, double lift)
    {
        int n = slope.Length;
        double[] d = new double[n];
        double[] x = new double[n];
        for (int i = 0; i < n; i++)
        {
            double l = i == 0 ? 0 : beside[i] / d[i - 1];
            d[i] = diagonal[i] + lift - (i == 0 ? 0 : l * beside[i]);
            if (!(d[i] > 0))
                return null;
            x[i] = -slope[i] - (i == 0 ? 0 : l * x[i - 1]);
        }

        for (int i = n - 1; i >= 0; i--)
            x[i] = (x[i] - (i == n - 1 ? 0 : beside[i + 1] * x[i + 1])) / d[i];
        return x;
    }
}

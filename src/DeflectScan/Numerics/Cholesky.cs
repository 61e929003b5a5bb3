using System.Runtime.CompilerServices;

namespace DeflectScan.Numerics;

/// <summary>Square roots of small symmetric positive matrices, row by row; the same bytes on every run (one thread, fixed order).</summary>
internal static class Cholesky
{
    /// <summary>The lower factor of a matrix (its lower half is read); null when the matrix is not positive definite.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static double[]? Factor(double[] a, int n)
    {
        double[] l = new double[n * n];
        for (int i = 0; i < n; i++)
        {
            ReadOnlySpan<double> row = l.AsSpan(i * n, n);
            for (int j = 0; j <= i; j++)
            {
                ReadOnlySpan<double> other = l.AsSpan(j * n, n);
                double sum = a[(i * n) + j] - Vectors.Dot(row[..j], other[..j]);
                if (i != j)
                    l[(i * n) + j] = sum / l[(j * n) + j];
                else if (sum > 0)
                    l[(i * n) + i] = Math.Sqrt(sum);
                else
                    return null;
            }
        }

        return l;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static double[] Solve(double[] l, int n, ReadOnlySpan<double> b)
    {
        double[] x = Forward(l, n, b);
        for (int i = n - 1; i >= 0; i--)
        {
            x[i] /= l[(i * n) + i];
            Vectors.Add(x.AsSpan(0, i), -x[i], l.AsSpan(i * n, i));
        }

        return x;
    }

    /// <summary>L⁻¹ b: its squared length is bᵀ A⁻¹ b.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static double[] Forward(double[] l, int n, ReadOnlySpan<double> b)
    {
        double[] x = b.ToArray();
        for (int i = 0; i < n; i++)
        {
            x[i] = (x[i] - Vectors.Dot(l.AsSpan(i * n, i), x.AsSpan(0, i))) / l[(i * n) + i];
        }

        return x;
    }

    public static double[] Inverse(double[] l, int n)
    {
        double[] inverse = new double[n * n];
        double[] unit = new double[n];
        for (int j = 0; j < n; j++)
        {
            Array.Clear(unit);
            unit[j] = 1;
            double[] column = Solve(l, n, unit);
            for (int i = 0; i < n; i++)
                inverse[(i * n) + j] = column[i];
        }

        return inverse;
    }

    public static double LogDeterminant(double[] l, int n)
    {
        double sum = 0;
        for (int i = 0; i < n; i++)
            sum += 2 * Math.Log(l[(i * n) + i]);
        return sum;
    }
}

using DeflectScan.Numerics;

namespace DeflectScan.Mechanics.Estimation;

/// <summary>
/// What is known beside the measured points: a quadratic (x − mean)ᵀ Precision (x − mean) over all unknowns, without the profile's
/// roughness, which comes with its own factor.
/// </summary>
internal sealed class Priors(int count)
{
    public double[] Mean { get; } = new double[count];

    /// <summary>Row by row, symmetric.</summary>
    public double[] Precision { get; } = new double[count * count];

    public void Single(int index, double mean, double sd)
    {
        Mean[index] = mean;
        Precision[(index * count) + index] = 1 / (sd * sd);
    }

    /// <summary>Zero-mean smooth functions: covariance sd² exp(−½(Δ/range)²) between the centres of the coefficients, with 2 % of it independent.</summary>
    public void Smooth(int from, CubicBasis basis, double sd, double rangeMm)
    {
        int n = basis.Count;
        double[] covariance = new double[n * n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
            {
                double far = (basis.Centre(i) - basis.Centre(j)) / rangeMm;
                covariance[(i * n) + j] = sd * sd * ((0.98 * Math.Exp(-0.5 * far * far)) + (i == j ? 0.02 : 0));
            }
        }

        double[] l = Cholesky.Factor(covariance, n) ?? throw new InvalidOperationException("A prior's covariance is not positive definite.");
        double[] inverse = Cholesky.Inverse(l, n);
        for (int i = 0; i < n; i++)
            inverse.AsSpan(i * n, n).CopyTo(Precision.AsSpan(((from + i) * count) + from));
    }
}

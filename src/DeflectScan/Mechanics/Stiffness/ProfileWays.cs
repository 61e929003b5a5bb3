using DeflectScan.Mechanics.Estimation;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DeflectScan.Mechanics.Stiffness;

/// <summary>The independent ways in which a fitted profile may be off by one standard deviation, largest first.</summary>
internal static class ProfileWays
{
    /// <returns>Changes of the coefficients of q.</returns>
    public static IEnumerable<double[]> Of(StiffnessEstimate estimate, int most)
    {
        int n = estimate.Setup.Unknowns.Profile;
        int all = estimate.Fit.X.Length;
        Matrix<double> covariance = Matrix<double>.Build.Dense(
            n, n, (i, j) => 0.5 * (estimate.Covariance[(i * all) + j] + estimate.Covariance[(j * all) + i]));
        Evd<double> evd = covariance.Evd(Symmetricity.Symmetric);
        for (int k = n - 1; k >= Math.Max(0, n - most); k--)
            yield return [.. evd.EigenVectors.Column(k) * Math.Sqrt(Math.Max(0, evd.EigenValues[k].Real))];
    }
}

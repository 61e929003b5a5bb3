using DeflectScan.Mechanics.Estimation;
using DeflectScan.Numerics;

namespace DeflectScan.Mechanics.Stiffness;

/// <summary>
/// Whether two estimates, each from photos of its own, can be of one blank: ln(EI over the one's pull) minus ln(EI over the other's) is then the same at every
/// station, namely the logarithm of the ratio of the pulls. The sum of squares of what differs, weighted by both covariances, is compared with chi-square.
/// The covariances hold what neither photo tells, so that the sum is smaller than chi-square where the blanks are the same: no alarm by chance, and a small
/// difference passes.
/// </summary>
/// <param name="SumOfSquares">In units of variances.</param>
/// <param name="Freedom">Degrees of freedom.</param>
/// <param name="LargestShare">The largest difference of stiffness from one station to another, as a share.</param>
/// <param name="SlopeSquares">The sum of squares that a difference of ln 1 from one end of the common stretch to the other, even along it, would give.</param>
internal sealed record TaperComparison(double SumOfSquares, int Freedom, double LargestShare, double SlopeSquares)
{
    private const int Stations = 8;

    /// <summary>Variance of the unknown ratio of the pulls, in squares of its logarithm: as good as free.</summary>
    private const double FreeRatio = 100;

    /// <summary>The comparison; null where the photos tell no common stretch.</summary>
    public static TaperComparison? Of(StiffnessEstimate a, StiffnessEstimate b)
    {
        if (a.Told.Count == 0 || b.Told.Count == 0)
            return null;
        double from = Math.Max(a.Told[0].FromMm, b.Told[0].FromMm);
        double to = Math.Min(a.Told[^1].ToMm, b.Told[^1].ToMm);
        if (to <= from)
            return null;
        double[] at = [.. Enumerable.Range(0, Stations).Select(i => from + ((to - from) * (i + 0.5) / Stations))];
        double[] off = [.. at.Select(s => Math.Log(a.RatioMm2(s) / b.RatioMm2(s)))];
        (double[][] ofA, double[][] ofB) = ([.. at.Select(s => LogSlope(a, s))], [.. at.Select(s => LogSlope(b, s))]);
        double[] covariance = new double[Stations * Stations];
        for (int i = 0; i < Stations; i++)
        {
            for (int j = 0; j < Stations; j++)
                covariance[(i * Stations) + j] = FreeRatio + Covariance(a, ofA[i], ofA[j]) + Covariance(b, ofB[i], ofB[j]);
        }

        if (Cholesky.Factor(covariance, Stations) is not { } factor)
            return null;
        double[] half = Cholesky.Forward(factor, Stations, off);
        double[] slope = Cholesky.Forward(factor, Stations, [.. Enumerable.Range(0, Stations).Select(i => (double)i / (Stations - 1))]);
        return new TaperComparison(Vectors.Dot(half, half), Stations - 1, Math.Exp(off.Max() - off.Min()) - 1, Vectors.Dot(slope, slope));
    }

    // Derivatives of ln(EI over the pull) by the unknowns: EI over the pull is the fourth power of the profile.
    private static double[] LogSlope(StiffnessEstimate estimate, double stationMm)
    {
        double[] slope = new double[estimate.Fit.X.Length];
        Span<double> b = stackalloc double[4];
        int first = estimate.Setup.Profile.At(stationMm, b);
        double width = Math.Pow(estimate.RatioMm2(stationMm), 0.25);
        for (int i = 0; i < 4; i++)
            slope[first + i] = 4 * b[i] / width;
        return slope;
    }

    private static double Covariance(StiffnessEstimate estimate, double[] a, double[] b)
    {
        int n = a.Length;
        return Enumerable.Range(0, n).Sum(i => a[i] == 0 ? 0 : a[i] * Vectors.Dot(estimate.Covariance.AsSpan(i * n, n), b));
    }
}

using DeflectScan.Numerics;

namespace DeflectScan.Proving;

/// <summary>
/// A cause whose size is not known beforehand: d = X t + e, e of covariance V (a linear Gaussian model; the ratio of marginal likelihoods as in Kass and Raftery
/// 1995, "Bayes factors", from memory). Beforehand the first parameter, the cause's own size, has the density t² exp(-t² / 2 s²), up to a constant: a card that
/// stands in the plane is no card off it, so that a size of nothing is not likely (the moment prior of Johnson and Rossell 2010, "non-local
/// priors", from memory). It is likeliest at 1.4 s. Parameters that only go with it are normal about 0.
/// </summary>
/// <param name="LogFactor">
/// Logarithm of how much more probable the readings are with the cause than without: half of what the fit explains, less half of ln det(I + T Xᵀ V⁻¹ X), the
/// penalty for the freedom to fit, plus ln of the mean of t² / s² after the readings, where t were normal before: what the moment prior adds.
/// </param>
/// <param name="Size">The best size of each parameter.</param>
/// <param name="Sd">Their standard uncertainties.</param>
/// <param name="ChiSquareLeft">Of the differences that the fit leaves.</param>
internal sealed record Slab(double LogFactor, double[] Size, double[] Sd, double ChiSquareLeft)
{
    /// <summary>The fit; null where the readings say nothing of the cause.</summary>
    /// <param name="model">The readings.</param>
    /// <param name="columns">What one unit of each parameter does to the differences.</param>
    /// <param name="priorSd">How large each is likely to be: s.</param>
    public static Slab? Fit(ReadingsModel model, double[][] columns, double[] priorSd)
    {
        int k = columns.Length;
        int n = model.Count;
        double[][] weighted = [.. columns.Select(c => Multiply(model.Inverse, c, n))];
        double[] b = [.. weighted.Select(w => Vectors.Dot(w, model.DifferencesMm))];
        if (weighted.Zip(columns, (w, c) => Vectors.Dot(w, c)).First() <= 0)
            return null;
        double[] posterior = new double[k * k];
        double[] ratio = new double[k * k]; // I + T^½ Xᵀ V⁻¹ X T^½
        for (int i = 0; i < k; i++)
        {
            for (int j = 0; j < k; j++)
            {
                double f = Vectors.Dot(weighted[i], columns[j]);
                posterior[(i * k) + j] = f + (i == j ? 1 / (priorSd[i] * priorSd[i]) : 0);
                ratio[(i * k) + j] = (priorSd[i] * f * priorSd[j]) + (i == j ? 1 : 0);
            }
        }

        if (Cholesky.Factor(posterior, k) is not { } root || Cholesky.Factor(ratio, k) is not { } ratioRoot)
            return null;
        double[] size = Cholesky.Solve(root, k, b);
        double[] inverse = Cholesky.Inverse(root, k);
        double[] left = [.. model.DifferencesMm];
        for (int c = 0; c < k; c++)
        {
            for (int i = 0; i < n; i++)
                left[i] -= size[c] * columns[c][i];
        }

        double explained = Vectors.Dot(size, b);
        return new Slab(
            (0.5 * (explained - Cholesky.LogDeterminant(ratioRoot, k))) + Math.Log(((size[0] * size[0]) + inverse[0]) / (priorSd[0] * priorSd[0])), size, [.. Enumerable.Range(0, k).Select(i => Math.Sqrt(inverse[(i * k) + i]))], model.ChiSquareOf(left));
    }

    private static double[] Multiply(double[] a, double[] x, int n)
    {
        double[] y = new double[n];
        for (int i = 0; i < n; i++)
            y[i] = Vectors.Dot(a.AsSpan(i * n, n), x);
        return y;
    }
}

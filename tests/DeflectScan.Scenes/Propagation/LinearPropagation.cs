using DeflectScan.Geometry.Propagation;

namespace DeflectScan.Scenes.Propagation;

/// <summary>The law of propagation of uncertainty (JCGM 100:2008, 5.1.2 and 5.2.2) with derivatives by central differences.</summary>
public static class LinearPropagation
{
    /// <summary>
    /// Carries a covariance through a function. Displacements are the columns of the covariance's Cholesky root, so the k-th one is what
    /// input k adds to those before it: with independent inputs, each input alone.
    /// </summary>
    /// <param name="function">Inputs to figures.</param>
    /// <param name="inputs">Estimates of the inputs.</param>
    /// <param name="covariance">Of the inputs, rows; symmetric, not negative; an input that is exact has a zero row.</param>
    public static Propagated<int> Of(Func<double[], double[]> function, IReadOnlyList<double> inputs, double[,] covariance)
    {
        Propagated<int> result = new(function([.. inputs]));
        double[,] root = Root(covariance);
        for (int k = 0; k < inputs.Count; k++)
        {
            const double Share = 1e-3; // of a standard deviation: derivatives, not finite changes
            double[] up = function([.. inputs.Select((v, i) => v + (Share * root[i, k]))]);
            double[] down = function([.. inputs.Select((v, i) => v - (Share * root[i, k]))]);
            result.Displace(k, [.. result.Values.Select((v, i) => v + ((up[i] - down[i]) / (2 * Share)))]);
        }

        return result;
    }

    /// <summary>The covariance of independent inputs.</summary>
    public static double[,] Independent(params IReadOnlyList<double> sd)
    {
        double[,] covariance = new double[sd.Count, sd.Count];
        for (int i = 0; i < sd.Count; i++)
            covariance[i, i] = sd[i] * sd[i];
        return covariance;
    }

    /// <summary>Lower triangular root of a covariance (Cholesky); inputs without variance have zero rows and columns.</summary>
    /// <exception cref="ArgumentException">The matrix is no covariance.</exception>
    public static double[,] Root(double[,] covariance)
    {
        int n = covariance.GetLength(0);
        double[,] root = new double[n, n];
        for (int j = 0; j < n; j++)
        {
            double left = covariance[j, j];
            for (int k = 0; k < j; k++)
                left -= root[j, k] * root[j, k];
            if (left < -1e-9 * Math.Max(covariance[j, j], double.Epsilon))
                throw new ArgumentException("The matrix is no covariance: it has a negative direction.", nameof(covariance));
            root[j, j] = left > 1e-14 * covariance[j, j] ? Math.Sqrt(left) : 0;
            for (int i = j + 1; i < n && root[j, j] > 0; i++)
            {
                double sum = covariance[i, j];
                for (int k = 0; k < j; k++)
                    sum -= root[i, k] * root[j, k];
                root[i, j] = sum / root[j, j];
            }
        }

        return root;
    }

    /// <summary>Effective degrees of freedom of a combined uncertainty (Welch-Satterthwaite; JCGM 100:2008, G.4.1).</summary>
    /// <param name="parts">Each part's standard uncertainty and its degrees of freedom.</param>
    public static double EffectiveFreedom(params IEnumerable<(double Sd, double Freedom)> parts)
    {
        (double Sd, double Freedom)[] all = [.. parts];
        return Math.Pow(all.Sum(p => p.Sd * p.Sd), 2) / all.Sum(p => Math.Pow(p.Sd, 4) / p.Freedom);
    }
}

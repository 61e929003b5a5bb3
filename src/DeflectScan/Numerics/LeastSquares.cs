using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DeflectScan.Numerics;

/// <summary>What to minimise: corner residuals with a robust loss, plus a Gaussian prior on the unknowns.</summary>
/// <param name="Unknowns">Number of unknowns.</param>
/// <param name="Corners">Number of corners; each has two residuals.</param>
/// <param name="Residuals">Fills x and y of every corner, px.</param>
/// <param name="PriorMean">Prior mean of every unknown.</param>
/// <param name="PriorInformation">Prior inverse covariance; 0 for what is free.</param>
/// <param name="Step">Difference step of every unknown for the Jacobian.</param>
internal sealed record RobustProblem(
    int Unknowns,
    int Corners,
    Action<double[], double[]> Residuals,
    Vector<double> PriorMean,
    Matrix<double> PriorInformation,
    IReadOnlyList<double> Step);

/// <summary>The minimum found.</summary>
/// <param name="X">Unknowns.</param>
/// <param name="Information">Normal matrix at the minimum, priors included (inverse covariance).</param>
/// <param name="Cost">Robust sum of squares in noise variances, the prior's part included.</param>
/// <param name="ResidualsPx">x and y of every corner.</param>
/// <param name="SdPx">Noise of one coordinate as estimated from the residuals.</param>
internal sealed record RobustFit(double[] X, Matrix<double> Information, double Cost, double[] ResidualsPx, double SdPx);

/// <summary>
/// Levenberg-Marquardt (Marquardt 1963) with Huber's loss (1964) on each corner's distance, central-difference Jacobian.
/// </summary>
internal static class LeastSquares
{
    /// <summary>Distance in noise standard deviations from which a corner pulls with constant force.</summary>
    private const double Bend = 3.5;

    /// <summary>A step that lowers the cost by less than this share of a noise variance ends the search.</summary>
    private const double Enough = 1e-5;

    /// <summary>Minimises on from a first fit with the noise estimated along the way, never below <paramref name="leastSdPx"/>.</summary>
    public static RobustFit Solve(RobustProblem problem, RobustFit first, double leastSdPx)
    {
        RobustFit fit = first;
        double before = double.NaN;
        for (int round = 0; round < 4; round++)
        {
            double sd = Math.Max(leastSdPx, fit.SdPx);
            if (Math.Abs(sd - before) < 0.02 * sd)
                break;
            fit = Minimise(problem, fit.X, sd);
            before = sd;
        }

        return fit;
    }

    /// <summary>Minimises for a given noise.</summary>
    public static RobustFit Minimise(RobustProblem problem, double[] start, double sdPx)
    {
        double[] x = [.. start];
        double[] r = new double[2 * problem.Corners];
        double[] tried = new double[r.Length];
        problem.Residuals(x, r);
        double cost = Cost(problem, x, r, sdPx);
        double damping = 1e-4;
        Matrix<double> normal = Matrix<double>.Build.Dense(problem.Unknowns, problem.Unknowns);
        for (int step = 0; step < 60; step++)
        {
            Vector<double> gradient = Normal(problem, x, r, sdPx, normal);
            bool moved = false;
            double decrement = 0;
            while (damping < 1e10)
            {
                Matrix<double> damped = normal.Clone();
                for (int i = 0; i < problem.Unknowns; i++)
                    damped[i, i] += damping * normal[i, i];
                if (!PositiveDefinite.TryFactor(damped, out Cholesky<double>? factor))
                {
                    damping *= 6;
                    continue;
                }

                Vector<double> d = factor.Solve(gradient);
                double[] next = [.. x.Select((v, i) => v - d[i])];
                problem.Residuals(next, tried);
                double nextCost = Cost(problem, next, tried, sdPx);
                decrement = Math.Abs(d * gradient);
                if (nextCost <= cost)
                {
                    (x, r, tried, cost) = (next, tried, r, nextCost);
                    damping = Math.Max(damping / 8, 1e-12);
                    moved = true;
                    break;
                }

                damping *= 6;
                if (decrement < Enough)
                    break;
            }

            if (!moved || decrement < Enough)
                break;
        }

        Normal(problem, x, r, sdPx, normal);
        return new RobustFit(x, normal, cost, r, NoiseSd(problem, r, sdPx, normal));
    }

    /// <summary>Fills the normal matrix and gives the gradient, priors included. Plain loops: the sums are the same for any number of threads.</summary>
    private static Vector<double> Normal(RobustProblem problem, double[] x, double[] r, double sdPx, Matrix<double> normal)
    {
        int n = problem.Unknowns;
        double[][] columns = new double[n][];
        double[] weights = [.. Enumerable.Range(0, problem.Corners).Select(c => Weight(r, c, sdPx) / (sdPx * sdPx))];
        double[] down = new double[r.Length];
        for (int k = 0; k < n; k++)
        {
            double[] up = columns[k] = new double[r.Length];
            double at = x[k];
            x[k] = at + problem.Step[k];
            problem.Residuals(x, up);
            x[k] = at - problem.Step[k];
            problem.Residuals(x, down);
            x[k] = at;
            for (int i = 0; i < r.Length; i++)
                up[i] = (up[i] - down[i]) / (2 * problem.Step[k]);
        }

        Vector<double> off = Vector<double>.Build.Dense(n, i => x[i] - problem.PriorMean[i]);
        Vector<double> gradient = problem.PriorInformation * off;
        for (int j = 0; j < n; j++)
        {
            for (int k = j; k < n; k++)
                normal[j, k] = normal[k, j] = problem.PriorInformation[j, k] + Dot(columns[j], columns[k], weights);
            gradient[j] += Dot(columns[j], r, weights);
        }

        return gradient;
    }

    private static double Dot(double[] a, double[] b, double[] cornerWeights)
    {
        double sum = 0;
        for (int c = 0; c < cornerWeights.Length; c++)
            sum += cornerWeights[c] * ((a[2 * c] * b[2 * c]) + (a[(2 * c) + 1] * b[(2 * c) + 1]));
        return sum;
    }

    private static double Cost(RobustProblem problem, double[] x, double[] r, double sdPx)
    {
        Vector<double> off = Vector<double>.Build.Dense(problem.Unknowns, i => x[i] - problem.PriorMean[i]);
        double cost = off * (problem.PriorInformation * off);
        for (int c = 0; c < problem.Corners; c++)
        {
            double d = Distance(r, c) / sdPx;
            cost += d <= Bend ? d * d : (2 * Bend * d) - (Bend * Bend);
        }

        return double.IsFinite(cost) ? cost : double.MaxValue;
    }

    private static double Distance(double[] r, int corner) => Math.Sqrt((r[2 * corner] * r[2 * corner]) + (r[(2 * corner) + 1] * r[(2 * corner) + 1]));

    private static double Weight(double[] r, int corner, double sdPx) => Math.Min(1, Bend * sdPx / Math.Max(Distance(r, corner), 1e-12));

    /// <summary>Weighted rms with the degrees of freedom taken off that the corners, not the priors, pay for.</summary>
    private static double NoiseSd(RobustProblem problem, double[] r, double sdPx, Matrix<double> normal)
    {
        double sum = 0;
        double count = 0;
        for (int c = 0; c < problem.Corners; c++)
        {
            double w = Weight(r, c, sdPx);
            sum += w * Distance(r, c) * Distance(r, c);
            count += 2 * w;
        }

        double paid = problem.Unknowns
            - (PositiveDefinite.TryFactor(normal, out Cholesky<double>? factor) ? factor.Solve(problem.PriorInformation).Trace() : 0);
        return Math.Sqrt(sum / Math.Max(1, count - paid));
    }
}

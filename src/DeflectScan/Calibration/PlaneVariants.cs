using DeflectScan.Geometry;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DeflectScan.Calibration;

/// <summary>
/// The covariance of a fit as displaced planes: principal directions of what it does to positions all over the photo (singular vectors of
/// the positions' sensitivities times a root of the covariance), the largest first; directions that move nothing worth naming are dropped.
/// </summary>
internal static class PlaneVariants
{
    private const int Across = 7;
    private const int Down = 5;

    /// <summary>Root-mean-square displacement over the photo below which a direction is dropped, mm, or as a share of all of it.</summary>
    private const double LeastMm = 0.002;
    private const double LeastShare = 0.005;

    /// <summary>Displaced planes in the frame of <see cref="PlaneFrame"/>.</summary>
    /// <param name="problem">The fitted model.</param>
    /// <param name="x">Unknowns at the minimum.</param>
    /// <param name="information">Inverse covariance of the unknowns.</param>
    /// <param name="widthPx">Of the photo.</param>
    /// <param name="heightPx">Of the photo.</param>
    public static IReadOnlyList<(RodPlane Plane, UncertaintyCause Cause)> Of(PlaneProblem problem, double[] x, Matrix<double> information, int widthPx, int heightPx)
    {
        Vec2 middle = new((widthPx - 1) / 2.0, (heightPx - 1) / 2.0);
        Vec2[] grid =
        [
            .. from j in Enumerable.Range(0, Down)
               from i in Enumerable.Range(0, Across)
               select new Vec2((widthPx - 1) * (i + 0.5) / Across, (heightPx - 1) * (j + 0.5) / Down),
        ];
        (UncertaintyCause Cause, int[] Unknowns)[] groups = problem.Causes();
        Matrix<double> root = RootOfCovariance(information, [.. groups.SelectMany(g => g.Unknowns)]);
        Matrix<double> effect = Matrix<double>.Build.Dense(2 * grid.Length, x.Length);
        for (int k = 0; k < x.Length; k++)
        {
            Vector<double> column = root.Column(k) * 0.1;
            RodPlane up = Displaced(column);
            RodPlane down = Displaced(-column);
            for (int g = 0; g < grid.Length; g++)
            {
                Vec2 d = (up.ToPlane(grid[g]) - down.ToPlane(grid[g])) / 0.2;
                effect[2 * g, k] = d.X;
                effect[(2 * g) + 1, k] = d.Y;
            }
        }

        double all = effect.FrobeniusNorm();
        List<(RodPlane Plane, UncertaintyCause Cause)> variants = [];
        int first = 0;
        foreach ((UncertaintyCause cause, int[] unknowns) in groups)
        {
            if (unknowns.Length == 0)
                continue;
            Svd<double> svd = effect.SubMatrix(0, effect.RowCount, first, unknowns.Length).Svd();
            Matrix<double> columns = root.SubMatrix(0, x.Length, first, unknowns.Length);
            for (int k = 0; k < svd.S.Count; k++)
            {
                if (svd.S[k] > LeastMm * Math.Sqrt(grid.Length) && svd.S[k] > LeastShare * all)
                    variants.Add((Displaced(columns * svd.VT.Row(k)), cause));
            }

            first += unknowns.Length;
        }

        return variants;

        RodPlane Displaced(Vector<double> by)
        {
            double[] moved = [.. x.Select((v, i) => v + by[i])];
            return PlaneFrame.Of(problem.Camera(moved), problem.Homography(moved), middle).Plane;
        }
    }

    /// <summary>
    /// R with R Rᵀ the covariance, lower triangular in the order given: a column is what an unknown adds to those before it, so every
    /// part of the variance belongs to one unknown. Scaled first, since px and distortion differ by 1e7.
    /// </summary>
    private static Matrix<double> RootOfCovariance(Matrix<double> information, int[] order)
    {
        Vector<double> scale = information.Diagonal().Map(v => 1 / Math.Sqrt(v));
        Matrix<double> ordered = Matrix<double>.Build.Dense(order.Length, order.Length, (i, j) => information[order[i], order[j]] * scale[order[i]] * scale[order[j]]);
        Matrix<double> covariance = ordered.Cholesky().Solve(Matrix<double>.Build.DenseIdentity(order.Length));
        Matrix<double> lower = ((covariance + covariance.Transpose()) / 2).Cholesky().Factor;
        Matrix<double> root = Matrix<double>.Build.Dense(order.Length, order.Length);
        for (int i = 0; i < order.Length; i++)
            root.SetRow(order[i], lower.Row(i) * scale[order[i]]);
        return root;
    }
}

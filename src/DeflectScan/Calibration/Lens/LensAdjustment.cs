using DeflectScan.Geometry;
using DeflectScan.Numerics;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DeflectScan.Calibration.Lens;

/// <summary>An adjusted lens.</summary>
/// <param name="X">The eight parameters.</param>
/// <param name="Covariance">8 × 8; rows of a parameter that was held are 0.</param>
/// <param name="Poses">One a view.</param>
/// <param name="ResidualsPx">Expected minus measured, per view and corner.</param>
/// <param name="SdPx">Noise of one coordinate, degrees of freedom taken off.</param>
internal sealed record AdjustedLens(double[] X, Matrix<double> Covariance, IReadOnlyList<BoardPose> Poses, IReadOnlyList<Vec2[]> ResidualsPx, double SdPx)
{
    /// <summary>Root mean square of the corners' distances, as OpenCV gives it.</summary>
    public double RmsPx => Math.Sqrt(ResidualsPx.SelectMany(r => r).Average(r => r.LengthSquared));
}

/// <summary>
/// Bundle adjustment of one lens over many flat boards (Zhang 2000; Triggs et al. 2000, "Bundle adjustment - a modern synthesis"):
/// Levenberg-Marquardt with Huber's loss, the boards' poses eliminated board by board (Schur complement), so that its cost grows with
/// the number of boards alone. The covariance is that of the normal equations, scaled by the residuals.
/// </summary>
/// <param name="views">Boards as seen.</param>
/// <param name="free">Which of the eight parameters are adjusted.</param>
/// <param name="bend">Distance in standard deviations from which a corner pulls with constant force; infinite: plain least squares.</param>
internal sealed class LensAdjustment(IReadOnlyList<BoardView> views, bool[] free, double bend = 3.5)
{
    private const int MostSteps = 80;
    private const double Enough = 1e-7;

    /// <summary>The minimum from a start; null where the views do not fix what is free.</summary>
    public AdjustedLens? Solve(double[] start, IReadOnlyList<BoardPose> poses)
    {
        double sd = 0.5;
        AdjustedLens? result = null;
        for (int round = 0; round < 6; round++)
        {
            result = Minimise(start, poses, sd);
            if (result is null)
                return null;
            (start, poses) = (result.X, result.Poses);
            if (double.IsPositiveInfinity(bend) || Math.Abs(result.SdPx - sd) < 0.01 * sd)
                break;
            sd = Math.Max(1e-4, result.SdPx);
        }

        return result;
    }

    private AdjustedLens? Minimise(double[] start, IReadOnlyList<BoardPose> startPoses, double sdPx)
    {
        double[] x = [.. start];
        BoardPose[] poses = [.. startPoses];
        double cost = Cost(x, poses, sdPx);
        double damping = 1e-4;
        for (int step = 0; step < MostSteps && damping < 1e12; step++)
        {
            BoardNormal[] boards = Normals(x, poses, sdPx);
            bool moved = false;
            while (damping < 1e12 && !moved)
            {
                (double[] X, BoardPose[] Poses)? next = Step(x, poses, boards, damping);
                double nextCost = next is { } n ? Cost(n.X, n.Poses, sdPx) : double.MaxValue;
                if (next is { } better && nextCost <= cost)
                {
                    double gain = cost - nextCost;
                    (x, poses, cost, moved) = (better.X, better.Poses, nextCost, true);
                    damping = Math.Max(damping / 10, 1e-13);
                    if (gain < Enough)
                        step = MostSteps;
                }
                else
                {
                    damping *= 8;
                }
            }
        }

        return Finish(x, poses, sdPx);
    }

    private BoardNormal[] Normals(double[] x, BoardPose[] poses, double sdPx)
    {
        BoardNormal[] boards = new BoardNormal[views.Count];
        for (int v = 0; v < views.Count; v++)
            boards[v] = BoardNormal.Of(views[v], x, poses[v], free, (r) => Weight(r, sdPx));
        return boards;
    }

    private (double[] X, BoardPose[] Poses)? Step(double[] x, BoardPose[] poses, BoardNormal[] boards, double damping)
    {
        Matrix<double> reduced = Matrix<double>.Build.Dense(LensModel.Count, LensModel.Count);
        Vector<double> right = Vector<double>.Build.Dense(LensModel.Count);
        Cholesky<double>[] factors = new Cholesky<double>[boards.Length];
        for (int v = 0; v < boards.Length; v++)
        {
            if (!PositiveDefinite.TryFactor(Damped(boards[v].Pose, damping), out Cholesky<double>? factor))
                return null;
            factors[v] = factor;
            Matrix<double> solved = factor.Solve(boards[v].Cross.Transpose());
            reduced += Damped(boards[v].Lens, damping) - (boards[v].Cross * solved);
            right += boards[v].LensRight - (boards[v].Cross * factor.Solve(boards[v].PoseRight));
        }

        Hold(reduced, right);
        if (!PositiveDefinite.TryFactor(Scaled(reduced, out Vector<double> scale), out Cholesky<double>? lens))
            return null;
        Vector<double> move = lens.Solve(right.PointwiseMultiply(scale)).PointwiseMultiply(scale);
        BoardPose[] nextPoses = new BoardPose[poses.Length];
        for (int v = 0; v < poses.Length; v++)
            nextPoses[v] = poses[v].Moved([.. -factors[v].Solve(boards[v].PoseRight - (boards[v].Cross.TransposeThisAndMultiply(move)))]);
        return ([.. x.Select((value, i) => value - move[i])], nextPoses);
    }

    private AdjustedLens? Finish(double[] x, BoardPose[] poses, double sdPx)
    {
        BoardNormal[] boards = Normals(x, poses, sdPx);
        Matrix<double> reduced = Matrix<double>.Build.Dense(LensModel.Count, LensModel.Count);
        Vec2[][] residuals = new Vec2[views.Count][];
        double sum = 0;
        double count = 0;
        CameraModel camera = LensModel.Camera(x);
        for (int v = 0; v < views.Count; v++)
        {
            if (!PositiveDefinite.TryFactor(boards[v].Pose, out Cholesky<double>? factor))
                return null;
            reduced += boards[v].Lens - (boards[v].Cross * factor.Solve(boards[v].Cross.Transpose()));
            residuals[v] = [.. views[v].BoardMm.Select((mm, i) => camera.Distort(poses[v].Pinhole(mm)) - views[v].SensorPx[i])];
            foreach (Vec2 r in residuals[v])
            {
                sum += Weight(r, sdPx) * r.LengthSquared;
                count += 2 * Weight(r, sdPx);
            }
        }

        Hold(reduced, Vector<double>.Build.Dense(LensModel.Count));
        if (!PositiveDefinite.TryFactor(Scaled(reduced, out Vector<double> scale), out Cholesky<double>? lens))
            return null;
        double sd = Math.Sqrt(sum / Math.Max(1, count - free.Count(f => f) - (BoardPose.Count * views.Count)));
        Matrix<double> inverse = lens.Solve(Matrix<double>.Build.DenseIdentity(LensModel.Count));
        Matrix<double> covariance = inverse.MapIndexed((i, j, c) => free[i] && free[j] ? c * scale[i] * scale[j] * sd * sd : 0);
        return covariance.Enumerate().All(double.IsFinite) && x.All(double.IsFinite) ? new AdjustedLens(x, covariance, poses, residuals, sd) : null;
    }

    /// <summary>Rows and columns of held parameters become those of the identity, so that they do not move.</summary>
    private void Hold(Matrix<double> m, Vector<double> right)
    {
        for (int i = 0; i < LensModel.Count; i++)
        {
            if (free[i])
                continue;
            m.ClearRow(i);
            m.ClearColumn(i);
            m[i, i] = 1;
            right[i] = 0;
        }
    }

    /// <summary>Brought to a unit diagonal: px and distortion differ by many powers of ten.</summary>
    private static Matrix<double> Scaled(Matrix<double> m, out Vector<double> scale)
    {
        Vector<double> s = m.Diagonal().Map(v => v > 0 ? 1 / Math.Sqrt(v) : double.NaN);
        scale = s;
        return m.MapIndexed((i, j, v) => v * s[i] * s[j]);
    }

    private static Matrix<double> Damped(Matrix<double> m, double damping)
    {
        Matrix<double> damped = m.Clone();
        for (int i = 0; i < m.RowCount; i++)
            damped[i, i] *= 1 + damping;
        return damped;
    }

    private double Cost(double[] x, BoardPose[] poses, double sdPx)
    {
        CameraModel camera = LensModel.Camera(x);
        double cost = 0;
        for (int v = 0; v < views.Count; v++)
        {
            for (int i = 0; i < views[v].BoardMm.Count; i++)
            {
                double d = (camera.Distort(poses[v].Pinhole(views[v].BoardMm[i])) - views[v].SensorPx[i]).Length / sdPx;
                cost += d <= bend ? d * d : (2 * bend * d) - (bend * bend);
            }
        }

        return double.IsFinite(cost) ? cost : double.MaxValue;
    }

    private double Weight(Vec2 r, double sdPx) => r.Length <= bend * sdPx ? 1 : bend * sdPx / r.Length;
}

using DeflectScan.Geometry;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Calibration.Lens;

/// <summary>One board's part of the normal equations: lens with lens, lens with pose, pose with pose, and the right-hand sides.</summary>
internal sealed record BoardNormal(Matrix<double> Lens, Matrix<double> Cross, Matrix<double> Pose, Vector<double> LensRight, Vector<double> PoseRight)
{
    private const int Columns = LensModel.Count + BoardPose.Count;

    public static BoardNormal Of(BoardView view, double[] x, BoardPose pose, bool[] free, Func<Vec2, double> weight)
    {
        int n = view.BoardMm.Count;
        CameraModel camera = LensModel.Camera(x);
        Vec2[] pinhole = [.. view.BoardMm.Select(pose.Pinhole)];
        Vec2[] residual = [.. pinhole.Select((p, i) => camera.Distort(p) - view.SensorPx[i])];
        Vec2[][] columns = new Vec2[Columns][];
        for (int k = 0; k < LensModel.Count; k++)
        {
            double step = LensModel.Steps[k];
            CameraModel up = LensModel.Camera([.. x.Select((v, i) => i == k ? v + step : v)]);
            CameraModel down = LensModel.Camera([.. x.Select((v, i) => i == k ? v - step : v)]);
            columns[k] = free[k] ? [.. pinhole.Select(p => (up.Distort(p) - down.Distort(p)) / (2 * step))] : new Vec2[n];
        }

        for (int k = 0; k < BoardPose.Count; k++)
        {
            double[] by = new double[BoardPose.Count];
            by[k] = BoardPose.Steps[k];
            BoardPose up = pose.Moved(by);
            by[k] = -by[k];
            BoardPose down = pose.Moved(by);
            columns[LensModel.Count + k] =
                [.. view.BoardMm.Select(mm => (camera.Distort(up.Pinhole(mm)) - camera.Distort(down.Pinhole(mm))) / (2 * BoardPose.Steps[k]))];
        }

        Matrix<double> all = Matrix<double>.Build.Dense(Columns, Columns);
        Vector<double> right = Vector<double>.Build.Dense(Columns);
        double[] weights = [.. residual.Select(weight)];
        for (int a = 0; a < Columns; a++)
        {
            for (int i = 0; i < n; i++)
                right[a] += weights[i] * columns[a][i].Dot(residual[i]);
            for (int b = a; b < Columns; b++)
            {
                double sum = 0;
                for (int i = 0; i < n; i++)
                    sum += weights[i] * columns[a][i].Dot(columns[b][i]);
                all[a, b] = all[b, a] = sum;
            }
        }

        return new BoardNormal(
            all.SubMatrix(0, LensModel.Count, 0, LensModel.Count),
            all.SubMatrix(0, LensModel.Count, LensModel.Count, BoardPose.Count),
            all.SubMatrix(LensModel.Count, BoardPose.Count, LensModel.Count, BoardPose.Count),
            right.SubVector(0, LensModel.Count),
            right.SubVector(LensModel.Count, BoardPose.Count));
    }
}

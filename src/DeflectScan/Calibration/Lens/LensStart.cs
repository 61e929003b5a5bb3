using DeflectScan.Geometry;

namespace DeflectScan.Calibration.Lens;

/// <summary>First guesses: a focal length that explains the boards' homographies best, and every board's pose under it.</summary>
internal static class LensStart
{
    /// <summary>Focal lengths that are tried, as shares of the picture's longer side: from very wide to long.</summary>
    private static readonly double[] Shares = [0.4, 0.55, 0.7, 0.85, 1, 1.2, 1.5, 2, 3, 5];

    public static (double[] X, BoardPose[] Poses)? Of(IReadOnlyList<BoardView> views, int widthPx, int heightPx)
    {
        (double[] X, BoardPose[] Poses)? best = null;
        double least = double.MaxValue;
        foreach (double share in Shares)
        {
            double[] x = [share * Math.Max(widthPx, heightPx), (widthPx - 1) / 2.0, (heightPx - 1) / 2.0, 0, 0, 0, 0, 0];
            CameraModel camera = LensModel.Camera(x);
            double sum = 0;
            List<BoardPose> poses = [];
            foreach (BoardView view in views)
            {
                if (Pose(view, camera) is not { } found)
                    break;
                poses.Add(found.Pose);
                sum += found.Squares;
            }

            if (poses.Count == views.Count && sum < least)
                (best, least) = ((x, [.. poses]), sum);
        }

        return best;
    }

    private static (BoardPose Pose, double Squares)? Pose(BoardView view, CameraModel camera)
    {
        (BoardPose Pose, double Squares)? best = null;
        foreach ((double[] rotation, double[] translation) in PlaneStart.Poses(view.BoardMm, view.SensorPx, camera))
        {
            BoardPose pose = new(rotation, translation);
            double squares = view.BoardMm.Select((mm, i) => (camera.Distort(pose.Pinhole(mm)) - view.SensorPx[i]).LengthSquared).Sum();
            if (best is null || squares < best.Value.Squares)
                best = (pose, squares);
        }

        return best;
    }
}

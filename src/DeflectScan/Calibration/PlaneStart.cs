using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Calibration;

/// <summary>
/// First guesses of the plane's pose from one card's homography, lens distortion left out. A card that is small in the picture looks
/// nearly the same leaning either way, so there are two: the second mirrors the first one's depth about the line of sight.
/// </summary>
internal static class PlaneStart
{
    /// <summary>Rotation (row-major) and translation, card frame to camera; empty where the corners fix no plane.</summary>
    public static IReadOnlyList<(double[] Rotation, double[] Translation)> Poses(CardSighting card, double cardScale, CameraModel camera)
    {
        Vec2[] mm = [.. card.Corners.Select(c => PlaneProblem.InCardMm(ScaleCard.InnerCornerMm(c.Index), cardScale))];
        return Poses(mm, [.. card.Corners.Select(c => c.Px)], camera);
    }

    /// <summary>The same for any flat board: its points in mm, and in the photo's px.</summary>
    public static IReadOnlyList<(double[] Rotation, double[] Translation)> Poses(IReadOnlyList<Vec2> mm, IReadOnlyList<Vec2> px, CameraModel camera)
    {
        Vec2[] seen = [.. px.Select(camera.Undistort)];
        if (PlaneMap.Fit(mm, seen) is not { } map)
            return [];
        double[] h = [.. map.Entries];
        double size = Math.Sqrt(Norm(h, 0) * Norm(h, 1)) * (h[8] < 0 ? -1 : 1);
        for (int i = 0; i < 9; i++)
            h[i] /= size;
        double[] r = Nearest(h);
        double[] t = [h[2], h[5], h[8]];
        return t[2] > 0 ? [(r, t), (Mirrored(r, t), t)] : [];
    }

    /// <summary>Where a further card lies in the plane of a pose: middle and angle, by rigid fit of its corners (Kabsch 1976, in two dimensions).</summary>
    public static (Vec2 MiddleMm, double Angle) Place(CardSighting card, double cardScale, RodPlane plane)
    {
        Vec2[] mm = [.. card.Corners.Select(c => PlaneProblem.InCardMm(ScaleCard.InnerCornerMm(c.Index), cardScale))];
        Vec2[] at = [.. card.Corners.Select(c => plane.ToPlane(c.Px))];
        Vec2 mmMean = mm.Aggregate((a, b) => a + b) / mm.Length;
        Vec2 atMean = at.Aggregate((a, b) => a + b) / at.Length;
        double dot = 0, cross = 0;
        for (int i = 0; i < mm.Length; i++)
        {
            dot += (mm[i] - mmMean).Dot(at[i] - atMean);
            cross += (mm[i] - mmMean).Cross(at[i] - atMean);
        }

        double angle = Math.Atan2(cross, dot);
        (double sin, double cos) = Math.SinCos(angle);
        return (atMean - new Vec2((cos * mmMean.X) - (sin * mmMean.Y), (sin * mmMean.X) + (cos * mmMean.Y)), angle);
    }

    private static double Norm(double[] h, int column) => Math.Sqrt((h[column] * h[column]) + (h[column + 3] * h[column + 3]) + (h[column + 6] * h[column + 6]));

    /// <summary>The rotation nearest to a homography's first two columns and their cross product.</summary>
    private static double[] Nearest(double[] h)
    {
        double[] a = [h[0], h[3], h[6]];
        double[] b = [h[1], h[4], h[7]];
        double[] c = Cross(a, b);
        Matrix<double> m = Matrix<double>.Build.DenseOfColumnArrays(a, b, c);
        MathNet.Numerics.LinearAlgebra.Factorization.Svd<double> svd = m.Svd();
        Matrix<double> r = svd.U * svd.VT;
        return [.. Enumerable.Range(0, 9).Select(i => r[i / 3, i % 3])];
    }

    /// <summary>The first two axes mirrored in the plane across the line of sight; the third follows.</summary>
    private static double[] Mirrored(double[] r, double[] t)
    {
        double length = Math.Sqrt((t[0] * t[0]) + (t[1] * t[1]) + (t[2] * t[2]));
        double[] sight = [t[0] / length, t[1] / length, t[2] / length];
        double[] a = Mirror([r[0], r[3], r[6]]);
        double[] b = Mirror([r[1], r[4], r[7]]);
        double[] c = Cross(a, b);
        return [a[0], b[0], c[0], a[1], b[1], c[1], a[2], b[2], c[2]];

        double[] Mirror(double[] v)
        {
            double along = (v[0] * sight[0]) + (v[1] * sight[1]) + (v[2] * sight[2]);
            return [v[0] - (2 * along * sight[0]), v[1] - (2 * along * sight[1]), v[2] - (2 * along * sight[2])];
        }
    }

    private static double[] Cross(double[] a, double[] b) =>
        [(a[1] * b[2]) - (a[2] * b[1]), (a[2] * b[0]) - (a[0] * b[2]), (a[0] * b[1]) - (a[1] * b[0])];
}

using DeflectScan.Geometry;
using DeflectScan.Numerics;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Calibration;

/// <summary>
/// What straight pieces of line tell of the lens: a camera that shows a taut line bent is a camera with distortion (the plumb line method,
/// Brown 1971, "Close-range camera calibration"). Only the radial terms k1 and k2 are asked for: the others bend a piece far less.
/// </summary>
internal static class PlumbLines
{
    /// <summary>A piece with fewer places, or shorter than this on the photo, says nothing of the lens.</summary>
    private const int FewestPoints = 8;
    private const double ShortestPx = 150;

    /// <summary>
    /// What light and background along a piece can make it seem bent by, px at its middle, standard deviation: the pieces of rendered
    /// photographs scatter by about this where their lens is known.
    /// </summary>
    private const double SeemingBendPx = 0.06;

    /// <summary>Neighbouring places share the photo's blur and JPEG's blocks: two of them tell about as much as one.</summary>
    private const double Likeness = 2;

    private const double TukeyWidth = 4.7;
    private const int Rounds = 4;
    private const double Step = 1e-3; // of k1 and k2, for derivatives

    /// <summary>A lens prior that holds what the pieces say besides, or the same one where they say nothing.</summary>
    /// <param name="prior">What is known of the lens otherwise.</param>
    /// <param name="at">A camera near the answer.</param>
    /// <param name="pieces">Straight pieces on the photo.</param>
    public static LensPrior Joined(LensPrior prior, CameraModel at, IReadOnlyList<StraightPiece> pieces)
    {
        double[,] information = new double[2, 2];
        double[] right = new double[2];
        foreach (StraightPiece piece in pieces)
        {
            if (piece.Points.Count >= FewestPoints && piece.Points[0].Px.DistanceTo(piece.Points[^1].Px) >= ShortestPx)
                Add(piece, at, information, right);
        }

        if (information[0, 0] <= 0)
            return prior;
        Matrix<double> joined = prior.Information.Clone();
        Vector<double> pull = prior.Information * Vector<double>.Build.Dense([.. prior.Mean]);
        for (int a = 0; a < 2; a++)
        {
            pull[K1At + a] += right[a];
            for (int b = 0; b < 2; b++)
                joined[K1At + a, K1At + b] += information[a, b];
        }

        return prior with { Mean = [.. joined.Cholesky().Solve(pull)], Information = joined };
    }

    /// <summary>Place of k1 among a lens prior's values; k2 follows.</summary>
    private const int K1At = 3;

    // Adds a piece's normal matrix of k1 and k2 and its right side, both about zero distortion.
    private static void Add(StraightPiece piece, CameraModel at, double[,] information, double[] right)
    {
        double[] x = Bent(piece, at, out double[] along);
        double[] k1 = Slope(piece, at, c => c with { K1 = c.K1 + Step }, c => c with { K1 = c.K1 - Step });
        double[] k2 = Slope(piece, at, c => c with { K2 = c.K2 + Step }, c => c with { K2 = c.K2 - Step });
        double[] weights = [.. piece.Points.Select(p => 1 / (p.SdPx * p.SdPx))];
        double spread = 1;
        double[] r = x;
        double[] robust = weights;
        for (int round = 0; round < Rounds; round++)
        {
            r = Unsloped(x, along, robust);
            double[] sizes = [.. r.Select((v, i) => Math.Abs(v) / piece.Points[i].SdPx)];
            spread = Math.Max(1, NormalLaw.SdPerMedianSize * OrderStatistics.MiddleInPlace(sizes, none: 0));
            robust = [.. weights.Select((w, i) => w * Tukey(r[i] / (piece.Points[i].SdPx * spread)))];
        }

        double[] g1 = Unsloped(k1, along, robust);
        double[] g2 = Unsloped(k2, along, robust);
        double q = Sum(robust, g1, g1);
        double most = g1.Max(Math.Abs);
        if (q <= 0 || most <= 0)
            return;
        double share = 1 / ((spread * spread * Likeness) + (q * Math.Pow(SeemingBendPx / most, 2)));
        double[][] g = [g1, g2];
        for (int a = 0; a < 2; a++)
        {
            double k = 0;
            for (int b = 0; b < 2; b++)
            {
                double n = share * Sum(robust, g[a], g[b]);
                information[a, b] += n;
                k += n * (b == 0 ? at.K1 : at.K2);
            }

            right[a] += k - (share * Sum(robust, g[a], r));
        }
    }

    // Offsets of a piece's places across the straight way between its ends, px, once the lens is taken out; and places along it, 0 to 1.
    private static double[] Bent(StraightPiece piece, CameraModel camera, out double[] along)
    {
        Vec2[] p = [.. piece.Points.Select(s => camera.Undistort(s.Px) * camera.FocalPx)];
        Vec2 way = p[^1] - p[0];
        Vec2 across = way.Normalized().Perpendicular;
        along = [.. p.Select(v => (v - p[0]).Dot(way) / way.LengthSquared)];
        return [.. p.Select(v => (v - p[0]).Dot(across))];
    }

    private static double[] Slope(StraightPiece piece, CameraModel at, Func<CameraModel, CameraModel> up, Func<CameraModel, CameraModel> down)
    {
        double[] more = Bent(piece, up(at), out _);
        double[] less = Bent(piece, down(at), out _);
        return [.. more.Select((v, i) => (v - less[i]) / (2 * Step))];
    }

    // What a weighted straight line leaves of the values.
    private static double[] Unsloped(double[] values, double[] at, double[] weights)
    {
        double w = weights.Sum();
        double meanA = Sum(weights, at, null) / w;
        double meanV = Sum(weights, values, null) / w;
        double top = 0;
        double bottom = 0;
        for (int i = 0; i < values.Length; i++)
        {
            top += weights[i] * (at[i] - meanA) * (values[i] - meanV);
            bottom += weights[i] * (at[i] - meanA) * (at[i] - meanA);
        }

        double slope = bottom > 0 ? top / bottom : 0;
        return [.. values.Select((v, i) => v - meanV - (slope * (at[i] - meanA)))];
    }

    private static double Sum(double[] weights, double[] a, double[]? b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
            sum += weights[i] * a[i] * (b is null ? 1 : b[i]);
        return sum;
    }

    private static double Tukey(double z) => Math.Abs(z) < TukeyWidth ? Math.Pow(1 - (z * z / (TukeyWidth * TukeyWidth)), 2) : 0;
}

using DeflectScan.Geometry;
using DeflectScan.Imaging;
using OpenCvSharp;

namespace DeflectScan.Calibration.Cards;

/// <summary>A measured saddle corner.</summary>
/// <param name="Px">Sub-pixel position.</param>
/// <param name="Asymmetry">rms departure from point symmetry as a share of the window's own rms contrast: 0 perfect, 1 no corner at all.</param>
/// <param name="Contrast">rms grey levels about the window's mean.</param>
internal readonly record struct Saddle(Vec2 Px, double Asymmetry, double Contrast);

/// <summary>
/// Finds the point about which a window of the picture is point-symmetric: minimises the weighted sum of (I(p + d) - I(p - d))^2 by
/// Gauss-Newton. A chessboard corner is such a point whatever the blur, the sharpening and the gamma, and on the scale card also where
/// a marker's border reaches into the window; nothing but the symmetry is assumed. Samples are bicubic (Keys 1981, a = -1/2).
/// </summary>
internal static unsafe class SaddleFit
{
    private const int MostSteps = 12;

    /// <summary>The corner near a start, or null where it runs away, leaves the picture or has no structure to hold on to.</summary>
    /// <param name="grey">8-bit grey picture.</param>
    /// <param name="startPx">Start in <paramref name="grey"/>'s own px.</param>
    /// <param name="radiusPx">Radius of the window.</param>
    /// <param name="farthestPx">A corner farther than this from the start is none.</param>
    public static Saddle? Near(Mat grey, Vec2 startPx, double radiusPx, double farthestPx)
    {
        int n = Math.Max(3, (int)Math.Ceiling(radiusPx));
        int side = (2 * n) + 3; // one sample more on every side, for the gradients
        double[] patch = new double[side * side];
        Vec2 p = startPx;
        for (int step = 0; step < MostSteps; step++)
        {
            if (!Sample(grey, p, n + 1, patch))
                return null;
            Vec2? move = Solve(patch, n, radiusPx, out Saddle quality);
            if (move is not { } d)
                return null;
            double limit = Math.Max(0.5, 0.3 * radiusPx);
            p += d.Length > limit ? d * (limit / d.Length) : d;
            if (!(p.DistanceTo(startPx) <= farthestPx))
                return null;
            if (d.Length < 2e-4)
                return quality with { Px = p };
        }

        return null;
    }

    // Two unknowns, by Cramer's rule: a matrix of MathNet for every step at every corner would take longer than the sums.
    private static Vec2? Solve(double[] patch, int n, double radiusPx, out Saddle quality)
    {
        int side = (2 * n) + 3;
        double a = 0, b = 0, c = 0, u = 0, v = 0, squares = 0, weights = 0, sum = 0, sumOfSquares = 0;
        double radius = Math.Max(radiusPx, 3);
        for (int y = -n; y <= n; y++)
        {
            for (int x = -n; x <= n; x++)
            {
                double w = 1 - (((x * x) + (y * y)) / (radius * radius));
                if (w <= 0)
                    continue;
                int i = ((y + n + 1) * side) + x + n + 1;
                int j = patch.Length - 1 - i;
                double e = patch[i] - patch[j];
                double gx = (patch[i + 1] - patch[i - 1] - patch[j + 1] + patch[j - 1]) / 2;
                double gy = (patch[i + side] - patch[i - side] - patch[j + side] + patch[j - side]) / 2;
                a += w * gx * gx;
                b += w * gx * gy;
                c += w * gy * gy;
                u -= w * gx * e;
                v -= w * gy * e;
                squares += w * e * e;
                weights += w;
                sum += w * patch[i];
                sumOfSquares += w * patch[i] * patch[i];
            }
        }

        double mean = sum / weights;
        double variance = Math.Max((sumOfSquares / weights) - (mean * mean), 1e-6);
        quality = new Saddle(default, Math.Sqrt(squares / weights / variance) / 2, Math.Sqrt(variance));
        double determinant = (a * c) - (b * b);
        double trace = a + c;
        if (!(determinant > 1e-3 * trace * trace))
            return null;
        return new Vec2(((c * u) - (b * v)) / determinant, ((a * v) - (b * u)) / determinant);
    }

    /// <summary>Fills the patch with samples at p + (x, y), x and y from -reach to reach; false when it does not lie inside the picture.</summary>
    private static bool Sample(Mat grey, Vec2 p, int reach, double[] patch)
    {
        int x0 = (int)Math.Floor(p.X);
        int y0 = (int)Math.Floor(p.Y);
        if (x0 - reach < 1 || y0 - reach < 1 || x0 + reach + 2 >= grey.Width || y0 + reach + 2 >= grey.Height)
            return false;
        int side = (2 * reach) + 1;
        Span<double> wx = stackalloc double[4];
        Span<double> wy = stackalloc double[4];
        CubicKernel.Weights(p.X - x0, wx);
        CubicKernel.Weights(p.Y - y0, wy);
        double[] rows = new double[(side + 3) * side]; // first along x, then along y
        byte* data = (byte*)grey.DataPointer;
        long stride = grey.Step();
        for (int y = 0; y < side + 3; y++)
        {
            byte* row = data + ((y0 - reach - 1 + y) * stride) + x0 - reach - 1;
            for (int x = 0; x < side; x++)
                rows[(y * side) + x] = (wx[0] * row[x]) + (wx[1] * row[x + 1]) + (wx[2] * row[x + 2]) + (wx[3] * row[x + 3]);
        }

        for (int y = 0; y < side; y++)
        {
            int at = y * side;
            for (int x = 0; x < side; x++, at++)
                patch[at] = (wy[0] * rows[at]) + (wy[1] * rows[at + side]) + (wy[2] * rows[at + (2 * side)]) + (wy[3] * rows[at + (3 * side)]);
        }

        return true;
    }
}

using DeflectScan.Geometry;
using DeflectScan.Numerics;

namespace DeflectScan.Mechanics.Estimation;

/// <summary>
/// A rough smooth curve through an axis: polynomials of degree 8 in chord length, least squares. It gives the length, the tip's angle and
/// curvatures good enough to start from, nothing that is reported.
/// </summary>
internal sealed class AxisStart
{
    private const int Degree = 8;
    private const int Samples = 200;
    private readonly double[] _x;
    private readonly double[] _y;

    public AxisStart(IReadOnlyList<Vec2> axis)
    {
        int n = axis.Count;
        double[] chord = new double[n];
        for (int i = 1; i < n; i++)
            chord[i] = chord[i - 1] + axis[i].DistanceTo(axis[i - 1]);
        double[] a = new double[(Degree + 1) * (Degree + 1)];
        double[] bx = new double[Degree + 1];
        double[] by = new double[Degree + 1];
        Span<double> t = stackalloc double[Degree + 1];
        for (int i = 0; i < n; i++)
        {
            Chebyshev((2 * chord[i] / chord[^1]) - 1, t);
            for (int j = 0; j <= Degree; j++)
            {
                bx[j] += t[j] * axis[i].X;
                by[j] += t[j] * axis[i].Y;
                for (int k = 0; k <= j; k++)
                    a[(j * (Degree + 1)) + k] += t[j] * t[k];
            }
        }

        double[] l = Cholesky.Factor(a, Degree + 1) ?? throw new ArgumentException("An axis needs more points.", nameof(axis));
        _x = Cholesky.Solve(l, Degree + 1, bx);
        _y = Cholesky.Solve(l, Degree + 1, by);
        Points = new Vec2[Samples + 1];
        Stations = new double[Samples + 1];
        Angles = new double[Samples + 1];
        Curvatures = new double[Samples + 1];
        Sample();
        ChordShare = chord.Select(c => c / chord[^1]).ToArray();
    }

    public Vec2[] Points { get; }

    /// <summary>Arc length from the tip, mm.</summary>
    public double[] Stations { get; }

    /// <summary>Direction towards the tip, unwrapped, radians.</summary>
    public double[] Angles { get; }

    /// <summary>Curvature on the way to the tip, 1/mm.</summary>
    public double[] Curvatures { get; }

    public double LengthMm => Stations[^1];

    private double[] ChordShare { get; }

    /// <summary>Arc length in mm at each measured point.</summary>
    public double[] PointStations() => [.. ChordShare.Select(c =>
    {
        double at = c * Samples;
        int i = Math.Min((int)at, Samples - 1);
        return Stations[i] + ((at - i) * (Stations[i + 1] - Stations[i]));
    })];

    private void Sample()
    {
        for (int i = 0; i <= Samples; i++)
        {
            double u = (2.0 * i / Samples) - 1;
            Points[i] = Point(u);
            Vec2 back = (Point(u - 1e-3) - Point(u + 1e-3)) / 2e-3;
            Vec2 second = (Point(u - 1e-3) + Point(u + 1e-3) - (Point(u) * 2)) / 1e-6;
            double angle = Math.Atan2(back.Y, back.X);
            if (i > 0)
                angle -= Math.Round((angle - Angles[i - 1]) / (2 * Math.PI)) * 2 * Math.PI;
            Angles[i] = angle;

            // The parameter runs away from the tip, so the derivative towards the tip is "back" and the second one keeps its sign.
            Curvatures[i] = back.Cross(second) / Math.Pow(back.LengthSquared, 1.5);
            if (i > 0)
                Stations[i] = Stations[i - 1] + Points[i].DistanceTo(Points[i - 1]);
        }
    }

    private Vec2 Point(double u)
    {
        Span<double> t = stackalloc double[Degree + 1];
        Chebyshev(u, t);
        double x = 0;
        double y = 0;
        for (int j = 0; j <= Degree; j++)
        {
            x += t[j] * _x[j];
            y += t[j] * _y[j];
        }

        return new Vec2(x, y);
    }

    private static void Chebyshev(double u, Span<double> t)
    {
        t[0] = 1;
        t[1] = u;
        for (int j = 2; j <= Degree; j++)
            t[j] = (2 * u * t[j - 1]) - t[j - 2];
    }
}

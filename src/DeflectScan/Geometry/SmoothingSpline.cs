using DeflectScan.Numerics;

namespace DeflectScan.Geometry;

/// <summary>
/// The cubic smoothing spline: of all functions f the one with the least Σ w (y - f(x))² + λ ∫ f''². Natural at both ends (f'' = 0), straight
/// beyond them. Linear time (C. H. Reinsch, Smoothing by spline functions, 1967; notation of Green and Silverman, 1994; from memory).
/// </summary>
public sealed class SmoothingSpline
{
    private readonly double[] _x;
    private readonly double[] _value;
    private readonly double[] _second;

    private SmoothingSpline(double[] x, double[] value, double[] second, double residual, double effective)
    {
        _x = x;
        _value = value;
        _second = second;
        ResidualSumOfSquares = residual;
        EffectiveParameters = effective;
    }

    /// <summary>Σ w (y - f(x))².</summary>
    public double ResidualSumOfSquares { get; }

    /// <summary>Trace of the matrix that maps y to f(x): from 2 (a straight line) to the number of points.</summary>
    public double EffectiveParameters { get; }

    /// <summary>Generalised cross-validation score n RSS / (n - trace)²: least for the λ that predicts best.</summary>
    public double CrossValidation => _x.Length * ResidualSumOfSquares / Math.Pow(_x.Length - EffectiveParameters, 2);

    /// <summary>The spline through or near points.</summary>
    /// <param name="x">At least three, strictly ascending.</param>
    /// <param name="y">As many values.</param>
    /// <param name="lambda">λ, 0 (through every point) or more; in units of x³ when weights have none.</param>
    /// <param name="weights">As many positive weights (1 / variance), or null for 1.</param>
    public static SmoothingSpline Fit(IReadOnlyList<double> x, IReadOnlyList<double> y, double lambda, IReadOnlyList<double>? weights = null)
    {
        int n = x.Count;
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 3);
        ArgumentOutOfRangeException.ThrowIfNotEqual(y.Count, n);
        ArgumentOutOfRangeException.ThrowIfNegative(lambda);
        double[] h = new double[n - 1];
        for (int i = 0; i < h.Length; i++)
        {
            h[i] = x[i + 1] - x[i];
            if (!(h[i] > 0))
                throw new ArgumentException("Abscissae must ascend strictly.", nameof(x));
        }

        double Spread(int i) => 1 / (weights?[i] ?? 1);
        int m = n - 2;

        // Column j of Q belongs to the inner point j + 1: second differences. T = Q' W^-1 Q, and (R + λ T) γ = Q' y.
        double[] t0 = new double[m], t1 = new double[m], t2 = new double[m];
        double[] b0 = new double[m], b1 = new double[m], b2 = new double[m];
        double[] right = new double[m];
        for (int j = 0; j < m; j++)
        {
            (double lo, double mid, double hi) = Column(j);
            right[j] = (lo * y[j]) + (mid * y[j + 1]) + (hi * y[j + 2]);
            t0[j] = (lo * lo * Spread(j)) + (mid * mid * Spread(j + 1)) + (hi * hi * Spread(j + 2));
            if (j + 1 < m)
                t1[j] = (mid * Column(j + 1).Lo * Spread(j + 1)) + (hi * Column(j + 1).Mid * Spread(j + 2));
            if (j + 2 < m)
                t2[j] = hi * Column(j + 2).Lo * Spread(j + 2);
            b0[j] = ((h[j] + h[j + 1]) / 3) + (lambda * t0[j]);
            b1[j] = (j + 1 < m ? h[j + 1] / 6 : 0) + (lambda * t1[j]);
            b2[j] = lambda * t2[j];
        }

        PentadiagonalFactor factor = new(b0, b1, b2);
        double[] gamma = factor.Solve(right);
        double[] value = [.. y];
        double[] second = new double[n];
        for (int j = 0; j < m; j++)
        {
            (double lo, double mid, double hi) = Column(j);
            second[j + 1] = gamma[j];
            value[j] -= lambda * Spread(j) * lo * gamma[j];
            value[j + 1] -= lambda * Spread(j + 1) * mid * gamma[j];
            value[j + 2] -= lambda * Spread(j + 2) * hi * gamma[j];
        }

        double residual = 0;
        for (int i = 0; i < n; i++)
            residual += (y[i] - value[i]) * (y[i] - value[i]) / Spread(i);
        (double[] s0, double[] s1, double[] s2) = factor.InverseBands();
        double lost = 0;
        for (int j = 0; j < m; j++)
            lost += (t0[j] * s0[j]) + (2 * t1[j] * s1[j]) + (2 * t2[j] * s2[j]);
        return new SmoothingSpline([.. x], value, second, residual, n - (lambda * lost));

        (double Lo, double Mid, double Hi) Column(int j) => (1 / h[j], (-1 / h[j]) - (1 / h[j + 1]), 1 / h[j + 1]);
    }

    public double Value(double x)
    {
        int i = Piece(x);
        double h = _x[i + 1] - _x[i];
        if (x < _x[0] || x > _x[^1])
        {
            double end = x < _x[0] ? _x[0] : _x[^1];
            return Value(end) + (Slope(end) * (x - end));
        }

        double a = x - _x[i];
        double b = _x[i + 1] - x;
        return (((a * _value[i + 1]) + (b * _value[i])) / h)
            - (a * b / 6 * (((1 + (a / h)) * _second[i + 1]) + ((1 + (b / h)) * _second[i])));
    }

    /// <summary>First derivative.</summary>
    public double Slope(double x)
    {
        int i = Piece(x);
        double h = _x[i + 1] - _x[i];
        double a = Math.Clamp(x, _x[0], _x[^1]) - _x[i];
        double b = h - a;
        double chord = (_value[i + 1] - _value[i]) / h;
        return chord + (_second[i + 1] * (((3 * a * a) / h) - h) / 6) - (_second[i] * (((3 * b * b) / h) - h) / 6);
    }

    /// <summary>Second derivative; 0 beyond both ends.</summary>
    public double Second(double x)
    {
        if (x < _x[0] || x > _x[^1])
            return 0;
        int i = Piece(x);
        double t = (x - _x[i]) / (_x[i + 1] - _x[i]);
        return _second[i] + (t * (_second[i + 1] - _second[i]));
    }

    private int Piece(double x)
    {
        int i = Array.BinarySearch(_x, x);
        return Math.Clamp(i < 0 ? ~i - 1 : i, 0, _x.Length - 2);
    }
}

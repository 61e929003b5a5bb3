using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// A uniform cubic B-spline fitted to weighted values with a penalty on a difference of its coefficients
/// (Eilers and Marx 1996, "Flexible smoothing with B-splines and penalties"). The normal equations have three side diagonals: they are
/// solved by a banded Cholesky factor, which also gives the variance of any value of the curve.
/// </summary>
internal sealed class PenalisedSpline
{
    private const int Side = BandedCholesky.Side;

    private readonly double _from;
    private readonly double _step;
    private readonly double[] _coefficients;
    private readonly double[] _factor; // row i: L[i, i - 3] ... L[i, i]

    private PenalisedSpline(double from, double step, double[] coefficients, double[] factor)
    {
        _from = from;
        _step = step;
        _coefficients = coefficients;
        _factor = factor;
    }

    /// <param name="x">Abscissae within from..to; others are left out.</param>
    /// <param name="y">Values.</param>
    /// <param name="weights">Inverse variances, up to a common factor; 0 leaves a value out.</param>
    /// <param name="from">Start of the range.</param>
    /// <param name="to">End of the range.</param>
    /// <param name="knotStep">Wanted distance of the knots.</param>
    /// <param name="penaltyOrder">Which difference is kept small: 2 pulls to a straight line, 3 to a parabola.</param>
    /// <param name="penalty">Weight of the squared differences against the values' weights.</param>
    public static PenalisedSpline Fit(
        ReadOnlySpan<double> x, ReadOnlySpan<double> y, ReadOnlySpan<double> weights, double from, double to, double knotStep, int penaltyOrder, double penalty)
    {
        int intervals = Math.Max(1, (int)Math.Ceiling((to - from) / knotStep));
        double step = (to - from) / intervals;
        int n = intervals + Side;
        double[] band = new double[n * (Side + 1)]; // row i: A[i, i - 3] ... A[i, i]
        double[] right = new double[n];
        Span<double> basis = stackalloc double[4];
        for (int i = 0; i < x.Length; i++)
        {
            if (weights[i] <= 0 || x[i] < from - 1e-9 || x[i] > to + 1e-9)
                continue;
            int k = Basis((x[i] - from) / step, intervals, basis);
            for (int a = 0; a < 4; a++)
            {
                right[k + a] += weights[i] * basis[a] * y[i];
                for (int b = 0; b <= a; b++)
                    band[((k + a) * (Side + 1)) + Side - a + b] += weights[i] * basis[a] * basis[b];
            }
        }

        ReadOnlySpan<double> difference = penaltyOrder == 2 ? [1, -2, 1] : [1, -3, 3, -1];
        for (int i = 0; i + difference.Length <= n; i++)
        {
            for (int a = 0; a < difference.Length; a++)
            {
                for (int b = 0; b <= a; b++)
                    band[((i + a) * (Side + 1)) + Side - a + b] += penalty * difference[a] * difference[b];
            }
        }

        // A trace of ridge, against the coefficients of a parabola that no value holds.
        for (int i = 0; i < n; i++)
            band[(i * (Side + 1)) + Side] += 1e-9 * (1 + penalty);
        BandedCholesky.Factor(band, n);
        BandedCholesky.Solve(band, right);
        return new PenalisedSpline(from, step, right, band);
    }

    public double At(double x)
    {
        Span<double> basis = stackalloc double[4];
        int k = Basis((x - _from) / _step, _coefficients.Length - Side, basis);
        double sum = 0;
        for (int a = 0; a < 4; a++)
            sum += basis[a] * _coefficients[k + a];
        return sum;
    }

    /// <summary>Variance of the value at x for values whose weight 1 means variance 1.</summary>
    public double Variance(double x)
    {
        Span<double> basis = stackalloc double[4];
        int k = Basis((x - _from) / _step, _coefficients.Length - Side, basis);
        double[] solved = new double[_coefficients.Length];
        for (int a = 0; a < 4; a++)
            solved[k + a] = basis[a];
        BandedCholesky.Solve(_factor, solved);
        double sum = 0;
        for (int a = 0; a < 4; a++)
            sum += basis[a] * solved[k + a];
        return sum;
    }

    private static int Basis(double t, int intervals, Span<double> basis)
    {
        t = Math.Clamp(t, 0, intervals);
        int k = Math.Min((int)t, intervals - 1);
        double u = t - k;
        double v = 1 - u;
        basis[0] = v * v * v / 6;
        basis[1] = ((3 * u * u * u) - (6 * u * u) + 4) / 6;
        basis[2] = ((3 * v * v * v) - (6 * v * v) + 4) / 6;
        basis[3] = u * u * u / 6;
        return k;
    }
}

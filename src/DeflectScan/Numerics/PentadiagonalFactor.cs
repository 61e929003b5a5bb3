namespace DeflectScan.Numerics;

/// <summary>
/// A symmetric positive definite matrix with two bands beside its diagonal, as L D L-transposed: solves in linear time, and gives the
/// same bands of its inverse (Hutchinson and de Hoog, Smoothing noisy data with spline functions, 1985; from memory).
/// </summary>
internal sealed class PentadiagonalFactor
{
    private readonly double[] _d;
    private readonly double[] _l1;
    private readonly double[] _l2;

    /// <param name="diagonal">The diagonal, n values.</param>
    /// <param name="first">Band beside it: entries (i, i + 1); n values, the last unused.</param>
    /// <param name="second">Next band: entries (i, i + 2); n values, the last two unused.</param>
    public PentadiagonalFactor(double[] diagonal, double[] first, double[] second)
    {
        int n = diagonal.Length;
        _d = new double[n];
        _l1 = new double[n];
        _l2 = new double[n];
        for (int i = 0; i < n; i++)
        {
            double d = diagonal[i];
            double f = first[i];
            if (i > 0)
            {
                d -= _d[i - 1] * _l1[i - 1] * _l1[i - 1];
                f -= _d[i - 1] * _l1[i - 1] * _l2[i - 1];
            }

            if (i > 1)
                d -= _d[i - 2] * _l2[i - 2] * _l2[i - 2];
            _d[i] = d;
            _l1[i] = i + 1 < n ? f / d : 0;
            _l2[i] = i + 2 < n ? second[i] / d : 0;
        }
    }

    /// <summary>The x for which matrix × x is <paramref name="right"/>.</summary>
    public double[] Solve(double[] right)
    {
        int n = _d.Length;
        double[] x = [.. right];
        for (int i = 0; i < n; i++)
        {
            if (i > 0)
                x[i] -= _l1[i - 1] * x[i - 1];
            if (i > 1)
                x[i] -= _l2[i - 2] * x[i - 2];
        }

        for (int i = n - 1; i >= 0; i--)
        {
            x[i] /= _d[i];
            if (i + 1 < n)
                x[i] -= _l1[i] * x[i + 1];
            if (i + 2 < n)
                x[i] -= _l2[i] * x[i + 2];
        }

        return x;
    }

    /// <summary>Diagonal and both bands of the inverse, laid out as in the constructor.</summary>
    public (double[] Diagonal, double[] First, double[] Second) InverseBands()
    {
        int n = _d.Length;
        double[] d = new double[n];
        double[] first = new double[n];
        double[] second = new double[n];
        for (int i = n - 1; i >= 0; i--)
        {
            double next = i + 1 < n ? d[i + 1] : 0;
            double afterNext = i + 2 < n ? d[i + 2] : 0;
            double between = i + 1 < n ? first[i + 1] : 0;
            second[i] = -(_l1[i] * between) - (_l2[i] * afterNext);
            first[i] = -(_l1[i] * next) - (_l2[i] * between);
            d[i] = (1 / _d[i]) - (_l1[i] * first[i]) - (_l2[i] * second[i]);
        }

        return (d, first, second);
    }
}

namespace DeflectScan.Mechanics.Estimation;

/// <summary>
/// Cubic B-splines on 0 to L with clamped ends and knots that grow closer towards the tip (0): knot i of n at L u (a + (1 − a) u), u = i/n.
/// Method: de Boor's recursion.
/// </summary>
internal sealed class CubicBasis
{
    private readonly double[] _knots;

    /// <param name="lengthMm">The interval's length.</param>
    /// <param name="intervals">Number of knot intervals; the basis has three functions more.</param>
    /// <param name="tipShare">a: how much closer the first knots lie than even ones; 1 is even.</param>
    public CubicBasis(double lengthMm, int intervals, double tipShare)
    {
        LengthMm = lengthMm;
        _knots = new double[intervals + 7];
        for (int i = 0; i < _knots.Length; i++)
        {
            double u = Math.Clamp((i - 3.0) / intervals, 0, 1);
            _knots[i] = lengthMm * u * (tipShare + ((1 - tipShare) * u));
        }
    }

    public double LengthMm { get; }

    public int Count => _knots.Length - 4;

    /// <summary>Station in mm where each function has its weight (Greville's abscissae).</summary>
    public double Centre(int i) => (_knots[i + 1] + _knots[i + 2] + _knots[i + 3]) / 3;

    /// <summary>The four functions that are not zero at s: their values, and the first one's index.</summary>
    public int At(double s, Span<double> values)
    {
        int span = Span(s);
        double at = Math.Clamp(s, 0, LengthMm);
        Span<double> left = stackalloc double[4];
        Span<double> right = stackalloc double[4];
        values[0] = 1;
        for (int degree = 1; degree <= 3; degree++)
        {
            left[degree] = at - _knots[span + 1 - degree];
            right[degree] = _knots[span + degree] - at;
            double saved = 0;
            for (int r = 0; r < degree; r++)
            {
                double share = values[r] / (right[r + 1] + left[degree - r]);
                values[r] = saved + (right[r + 1] * share);
                saved = left[degree - r] * share;
            }

            values[degree] = saved;
        }

        return span - 3;
    }

    public double Value(ReadOnlySpan<double> coefficients, double s)
    {
        Span<double> b = stackalloc double[4];
        int first = At(s, b);
        return (b[0] * coefficients[first]) + (b[1] * coefficients[first + 1])
            + (b[2] * coefficients[first + 2]) + (b[3] * coefficients[first + 3]);
    }

    /// <summary>∫ Bi'' Bj'' ds, exact (second derivatives are linear between knots): Count by Count, row by row.</summary>
    public double[] Roughness()
    {
        int n = Count;
        double[] sum = new double[n * n];
        Span<double> d0 = stackalloc double[4];
        Span<double> d1 = stackalloc double[4];
        for (int span = 3; span < _knots.Length - 4; span++)
        {
            double h = _knots[span + 1] - _knots[span];
            SecondDerivatives(span, _knots[span], d0);
            SecondDerivatives(span, _knots[span + 1], d1);
            for (int i = 0; i < 4; i++)
            {
                for (int j = 0; j < 4; j++)
                {
                    sum[((span - 3 + i) * n) + span - 3 + j] +=
                        h / 6 * ((2 * d0[i] * d0[j]) + (d0[i] * d1[j]) + (d1[i] * d0[j]) + (2 * d1[i] * d1[j]));
                }
            }
        }

        return sum;
    }

    // Differentiating twice: differences of the linear functions on the same span.
    private void SecondDerivatives(int span, double s, Span<double> values)
    {
        double h = _knots[span + 1] - _knots[span];
        double b0 = (_knots[span + 1] - s) / h;
        double b1 = (s - _knots[span]) / h;
        Span<double> linear = [0, 0, b0, b1, 0];
        Span<double> first = stackalloc double[5];
        for (int i = 0; i < 4; i++)
        {
            // Functions span-2 … span of degree 2, from those of degree 1; index i stands for function span - 3 + i.
            int f = span - 3 + i;
            first[i] = 2 * (Divide(linear[i], _knots[f + 2] - _knots[f]) - Divide(linear[i + 1], _knots[f + 3] - _knots[f + 1]));
        }

        first[4] = 0;
        for (int i = 0; i < 4; i++)
        {
            int f = span - 3 + i;
            values[i] = 3 * (Divide(first[i], _knots[f + 3] - _knots[f]) - Divide(first[i + 1], _knots[f + 4] - _knots[f + 1]));
        }
    }

    private static double Divide(double a, double b) => b > 0 ? a / b : 0;

    private int Span(double s)
    {
        int low = 3;
        int high = _knots.Length - 4;
        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            (low, high) = _knots[middle] <= s ? (middle, high) : (low, middle);
        }

        return low;
    }
}

using DeflectScan.Numerics;

namespace DeflectScan.Mechanics.Estimation;

/// <summary>Turns errors with a known covariance into independent ones of unit variance: independent ones a point, and shared ones that fade exponentially with distance.</summary>
internal sealed class Whitening
{
    private readonly double[] _sd;
    private readonly double[]? _factor;

    private Whitening(double[] sd, double[]? factor)
    {
        _sd = sd;
        _factor = factor;
    }

    public static Whitening Of(MeasuredBend bend, IReadOnlyList<double> stations)
    {
        int n = stations.Count;
        double[] sd = new double[n];
        for (int i = 0; i < n; i++)
            sd[i] = Math.Max(bend.NormalSdsMm?[i] ?? bend.NormalSdMm, 1e-6);
        if (bend.CorrelatedSdMm <= 0)
            return new Whitening(sd, null);
        double[] covariance = new double[n * n];
        double shared = bend.CorrelatedSdMm * bend.CorrelatedSdMm;
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j <= i; j++)
                covariance[(i * n) + j] = shared * Math.Exp(-Math.Abs(stations[i] - stations[j]) / bend.CorrelationLengthMm);
            covariance[(i * n) + i] += sd[i] * sd[i];
        }

        return new Whitening(sd, Cholesky.Factor(covariance, n) ?? throw new ArgumentException("Two points of an axis lie on one place."));
    }

    /// <summary>Whitens the rows of a table in place (rows are points), <paramref name="width"/> values a row.</summary>
    public void Apply(double[] rows, int width)
    {
        int n = _sd.Length;
        if (_factor is null)
        {
            for (int i = 0; i < n; i++)
            {
                for (int j = 0; j < width; j++)
                    rows[(i * width) + j] /= _sd[i];
            }

            return;
        }

        for (int i = 0; i < n; i++)
        {
            Span<double> row = rows.AsSpan(i * width, width);
            for (int k = 0; k < i; k++)
                Vectors.Add(row, -_factor[(i * n) + k], rows.AsSpan(k * width, width));
            Vectors.Scale(row, 1 / _factor[(i * n) + i], row);
        }
    }
}

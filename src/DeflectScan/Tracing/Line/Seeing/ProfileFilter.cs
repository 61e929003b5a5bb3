using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// Reads a thin line's contrast and shift off a profile across it, samples half a pixel apart: least squares for a constant, a slope, a line of
/// Gaussian profile and its derivative. Samples at one end may be missing (where the blank begins).
/// </summary>
internal sealed class ProfileFilter
{
    private readonly double[][] _shift; // by samples missing, from -MostMissing (at the end) to MostMissing (at the start)
    private readonly double[][] _contrast;
    private readonly double[][] _basis; // four orthonormal rows each, one after the other
    private readonly double[] _gain;

    /// <param name="sigmaPx">Width of the line's image.</param>
    /// <param name="halfSteps">Samples to each side.</param>
    /// <param name="mostMissing">Most samples that may be missing at one end.</param>
    /// <param name="kernelLevels">Smoothing of the band's response that taught the colour, in half px.</param>
    /// <param name="flankLevels">Its flanks.</param>
    public ProfileFilter(double sigmaPx, int halfSteps, int mostMissing, double kernelLevels, int flankLevels)
    {
        MostMissing = mostMissing;
        _shift = new double[(2 * mostMissing) + 1][];
        _contrast = new double[_shift.Length][];
        _basis = new double[_shift.Length][];
        for (int missing = -mostMissing; missing <= mostMissing; missing++)
            (_shift[missing + mostMissing], _contrast[missing + mostMissing], _basis[missing + mostMissing]) = Rows(sigmaPx, halfSteps, missing);
        double full = Norm(_shift[mostMissing]);
        ShiftNoise = full;
        _gain = [.. _shift.Select(r => full / Norm(r))];

        double smooth = Math.Sqrt((sigmaPx * sigmaPx) + (kernelLevels * kernelLevels / 4));
        double flank = flankLevels / 2.0;
        PeakOfResponse = sigmaPx / smooth * (1 - Math.Exp(-flank * flank / (2 * smooth * smooth)));
    }

    public int MostMissing { get; }

    /// <summary>Standard deviation of <see cref="Shift"/> for samples of standard deviation 1.</summary>
    public double ShiftNoise { get; }

    /// <summary>What the band's smoothed response shows of a line of contrast 1.</summary>
    public double PeakOfResponse { get; }

    /// <summary>
    /// Response of <see cref="Shift"/> to contrast times shift in px: 1 with every sample there, less where some are missing, so that
    /// its noise is always the same.
    /// </summary>
    public double Gain(int missing) => _gain[missing + MostMissing];

    /// <summary>Contrast times shift, positive towards growing offsets for a bright line, times the gain.</summary>
    public double Shift(ReadOnlySpan<double> profile, int missing) => Gain(missing) * Dot(_shift[missing + MostMissing], profile);

    /// <summary>The contrast of a line at the middle.</summary>
    public double Contrast(ReadOnlySpan<double> profile, int missing) => Dot(_contrast[missing + MostMissing], profile);

    /// <summary>Root mean square of what the least squares leave: noise, and whatever else than a line on a slope lies there.</summary>
    public double Residual(ReadOnlySpan<double> profile, int missing)
    {
        double[] basis = _basis[missing + MostMissing];
        int n = profile.Length;
        int first = Math.Max(0, missing);
        int last = n - 1 + Math.Min(0, missing);
        double left = 0;
        for (int i = first; i <= last; i++)
            left += profile[i] * profile[i];
        for (int row = 0; row < 4; row++)
        {
            double dot = 0;
            for (int i = first; i <= last; i++)
                dot += basis[(row * n) + i] * profile[i];
            left -= dot * dot;
        }

        return Math.Sqrt(Math.Max(0, left) / (last - first - 3));
    }

    private static (double[] Shift, double[] Contrast, double[] Basis) Rows(double sigma, int halfSteps, int missing)
    {
        int n = (2 * halfSteps) + 1;
        int first = Math.Max(0, missing);
        int last = n - 1 + Math.Min(0, missing);
        Matrix<double> design = Matrix<double>.Build.Dense(last - first + 1, 4);
        for (int i = first; i <= last; i++)
        {
            double o = (i - halfSteps) / 2.0;
            double line = Math.Exp(-o * o / (2 * sigma * sigma));
            design.SetRow(i - first, [1, o, line, o / (sigma * sigma) * line]);
        }

        Matrix<double> inverse = (design.TransposeThisAndMultiply(design)).Inverse().TransposeAndMultiply(design);
        double[] shift = new double[n];
        double[] contrast = new double[n];
        inverse.Row(3).ToArray().CopyTo(shift, first);
        inverse.Row(2).ToArray().CopyTo(contrast, first);
        double[] basis = new double[4 * n];
        Matrix<double> q = design.QR(QRMethod.Thin).Q;
        for (int row = 0; row < 4; row++)
            q.Column(row).ToArray().CopyTo(basis, (row * n) + first);
        return (shift, contrast, basis);
    }

    private static double Norm(double[] row) => Math.Sqrt(row.Sum(v => v * v));

    private static double Dot(double[] a, ReadOnlySpan<double> b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }
}

namespace DeflectScan.Tracing.Line;

/// <summary>Filters across a thin line of Gaussian profile, on samples half a pixel apart, that ignore a constant and a sloping background.</summary>
internal sealed class ProfileFilter
{
    private readonly double[] _shift;
    private readonly double[] _peak;

    /// <param name="sigmaPx">Width of the line's image.</param>
    /// <param name="halfSteps">Samples to each side.</param>
    /// <param name="kernelLevels">Smoothing of the band's response that taught the colour, in half px.</param>
    /// <param name="flankLevels">Its flanks.</param>
    public ProfileFilter(double sigmaPx, int halfSteps, double kernelLevels, int flankLevels)
    {
        int n = (2 * halfSteps) + 1;
        double[] line = new double[n];
        double[] slope = new double[n];
        double moment = 0;
        double square = 0;
        for (int i = 0; i < n; i++)
        {
            double o = (i - halfSteps) / 2.0;
            line[i] = Math.Exp(-o * o / (2 * sigmaPx * sigmaPx));
            slope[i] = o / (sigmaPx * sigmaPx) * line[i];
            moment += slope[i] * o;
            square += o * o;
        }

        _shift = [.. slope.Select((v, i) => v - (moment / square * (i - halfSteps) / 2.0))];
        double mean = line.Average();
        _peak = [.. line.Select(v => v - mean)];
        double own = _peak.Select((v, i) => v * line[i]).Sum();
        for (int i = 0; i < n; i++)
            _peak[i] /= own;
        ShiftGain = _shift.Select((v, i) => v * slope[i]).Sum();

        double smooth = Math.Sqrt((sigmaPx * sigmaPx) + (kernelLevels * kernelLevels / 4));
        double flank = flankLevels / 2.0;
        PeakOfResponse = sigmaPx / smooth * (1 - Math.Exp(-flank * flank / (2 * smooth * smooth)));
    }

    /// <summary>Response of <see cref="Shift"/> to a line of contrast 1 for each px of shift.</summary>
    public double ShiftGain { get; }

    /// <summary>What the band's smoothed response shows of a line of contrast 1.</summary>
    public double PeakOfResponse { get; }

    /// <summary>Positive where a bright line lies towards growing offsets.</summary>
    public double Shift(ReadOnlySpan<double> profile) => Dot(_shift, profile);

    /// <summary>The contrast of a line at the middle.</summary>
    public double Peak(ReadOnlySpan<double> profile) => Dot(_peak, profile);

    private static double Dot(double[] a, ReadOnlySpan<double> b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }
}

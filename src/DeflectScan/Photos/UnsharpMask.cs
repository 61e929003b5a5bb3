namespace DeflectScan.Photos;

/// <summary>
/// How a camera sharpened a photo: coded values v became v + amount * (v - v blurred by a Gaussian of <paramref name="RadiusPx"/>), the
/// unsharp mask. On coded values that moves the edges of dark things inward, most where they stand before something bright.
/// </summary>
/// <param name="Amount">0 for a photo that was not sharpened.</param>
/// <param name="RadiusPx">Sigma of the blur, px.</param>
public sealed record UnsharpMask(double Amount, double RadiusPx)
{
    /// <summary>A mask weaker than this moves no edge by a hundredth of a pixel.</summary>
    public const double LeastAmount = 0.03;

    private const double ReachPx = 6;

    /// <summary>
    /// The filter that takes the mask off a profile across a straight edge. Its response is 1 / (1 + a (1 - g)), g the Gaussian's: never
    /// above 1, so that noise does not grow.
    /// </summary>
    /// <param name="stepPx">From value to value of the profile, at most a pixel.</param>
    /// <returns>Weights from the middle to one side; the other side's are the same. They sum to 1 over both sides.</returns>
    public double[] Undoing(double stepPx)
    {
        // Beyond the Gaussian's reach the response is 1 / (1 + a): that part is the middle weight, the rest is a smooth, short filter.
        double rest = 1 / (1 + Amount);
        double[] weights = new double[(int)Math.Round(ReachPx / stepPx) + 1];
        const int Frequencies = 400;
        double highest = 0.5 / stepPx;
        double df = highest / Frequencies;
        for (int j = 0; j < Frequencies; j++)
        {
            double f = (j + 0.5) * df;
            double gauss = Math.Exp(-2 * Math.PI * Math.PI * RadiusPx * RadiusPx * f * f);
            double smooth = (1 / (1 + (Amount * (1 - gauss)))) - rest;
            for (int k = 0; k < weights.Length; k++)
                weights[k] += 2 * stepPx * df * smooth * Math.Cos(2 * Math.PI * f * k * stepPx);
        }

        weights[0] += rest;
        double sum = weights[0] + (2 * weights[1..].Sum());
        return [.. weights.Select(w => w / sum)];
    }
}

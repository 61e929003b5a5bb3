using MathNet.Numerics.Distributions;

namespace DeflectScan.Proving;

/// <summary>
/// Stated uncertainty over the one that was found, from chi-square of many readings: 1 where uncertainties are as stated, above 1 where they are stated too wide.
/// Chi-square over the square of the true ratio has chi-square's own distribution, which gives the interval (95 %). Proofs with the same cards have
/// the cards' own faults alike, so that the interval is somewhat too narrow where these dominate.
/// </summary>
/// <param name="Ratio">Root of degrees of freedom over chi-square.</param>
/// <param name="Low">Lower end.</param>
/// <param name="High">Upper end.</param>
public sealed record StatedOverFound(double Ratio, double Low, double High)
{
    /// <param name="chiSquare">Sum of chi-squares; more than 0.</param>
    /// <param name="freedom">Sum of their degrees of freedom; 1 or more.</param>
    public static StatedOverFound Of(double chiSquare, int freedom)
    {
        double floor = Math.Max(chiSquare, 1e-9);
        return new StatedOverFound(
            Math.Sqrt(freedom / floor), Math.Sqrt(ChiSquared.InvCDF(freedom, 0.025) / floor), Math.Sqrt(ChiSquared.InvCDF(freedom, 0.975) / floor));
    }

    /// <summary>In words.</summary>
    public string Says => Low > 1 ? "stated uncertainties are too wide" : High < 1 ? "stated uncertainties are too narrow" : "stated uncertainties hold";
}

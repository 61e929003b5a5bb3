namespace DeflectScan.Tracing.Blank;

/// <summary>
/// How thick blanks are at least (common practice, no source): 7 mm across at the handle, 1.5 mm at the tip, and even the lightest not half of
/// that. Gloss, shade and a dark wall can hide all but a thread of a blank.
/// </summary>
internal static class UsualBlank
{
    private const double HandleMm = 7;
    private const double TipMm = 1.5;

    /// <summary>Share of the usual least below which a diameter is not believed.</summary>
    private const double Implausible = 0.5;

    /// <summary>Usual least diameter, mm, at a share of the length from the handle to the tip.</summary>
    public static double LeastMm(double share) => HandleMm + ((TipMm - HandleMm) * share);

    public static bool IsTooThin(double diameterMm, double share) => diameterMm < Implausible * LeastMm(share);

    /// <summary>Standard uncertainty, mm, that a diameter thinner than any blank's has besides: up to the usual least it may be anything.</summary>
    public static double DoubtMm(double diameterMm, double share) =>
        IsTooThin(diameterMm, share) ? (LeastMm(share) - diameterMm) / Math.Sqrt(3) : 0;
}

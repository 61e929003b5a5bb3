using DeflectScan.Findings;
using DeflectScan.Measuring;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;

namespace DeflectScan.Bending;

/// <summary>
/// Loads that a person read from a scale, held against what the bends alone say of their ratio: an observation has an uncertainty of its own, and one that
/// contradicts the others is not averaged in.
/// </summary>
internal static class StatedLoads
{
    /// <summary>What contradicts by more than chance; null where nothing does, or no two loads were told.</summary>
    /// <param name="bends">As measured, with their loads.</param>
    /// <param name="scalePercents">Of each bend's photo, 95 %.</param>
    /// <param name="estimate">The blank from some bends; null where there is none.</param>
    public static Finding? Contradiction(IReadOnlyList<MeasuredBend> bends, IReadOnlyList<double> scalePercents, Func<IReadOnlyList<MeasuredBend>, StiffnessEstimate?> estimate)
    {
        int reference = bends.ToList().FindIndex(b => !b.IsAtRest);
        if (bends[reference].LoadN is not { } first || bends.Count(b => b.LoadN is not null) < 2)
            return null;
        if (estimate([.. bends.Select((b, i) => i == reference ? b : b with { LoadN = null })]) is not { } alone)
            return null;
        (double Sds, string Says) worst = (0, "");
        for (int i = 0; i < bends.Count; i++)
        {
            if (i == reference || bends[i].LoadN is not { } load)
                continue;
            FittedPhoto fitted = alone.Photos[i];
            double told = load / first;
            double toldSd = double.Hypot(bends[i].LoadSdShare, bends[reference].LoadSdShare);

            // A load grows with the square of lengths: the photos' scales are in the ratio that the bends tell.
            double scaleSd = double.Hypot(scalePercents[i], scalePercents[reference]) / 100;
            double bentSd = double.Hypot(fitted.ForceRatioSd / fitted.ForceRatio, scaleSd);
            double sds = Math.Abs(Math.Log(told / fitted.ForceRatio)) / double.Hypot(toldSd, bentSd);
            if (sds > worst.Sds)
                worst = (sds, $"The loads that were told are in the ratio {told:0.000} ±{2 * toldSd * told:0.000}, but the bends say {fitted.ForceRatio:0.000} ±{2 * bentSd * fitted.ForceRatio:0.000}");
        }

        return worst.Sds <= LengthCheck.Contradiction
            ? null
            : Finding.Review(FindingCode.GuidesUncertain, $"{worst.Says}: read the scale again. The bends are taken as they are, and no load in newtons is given.");
    }
}

using DeflectScan.Findings;

namespace DeflectScan.Measuring;

/// <summary>
/// One card and a tape: the surer of both sets the scale, and one photo holds nothing that could contradict it. Said, so that a wrong tape does not pass
/// for a right photo.
/// </summary>
internal static class ScaleByTape
{
    /// <summary>The tape alone sets the scale where it leaves less than this share of the card's own uncertainty: a tenth of the weight and less is the card's.</summary>
    private const double AloneShare = 1 / 3.0;

    /// <param name="seen">As the photo alone has it.</param>
    /// <param name="told">Adjusted to what was taped; the same where nothing was used.</param>
    public static IEnumerable<Finding> Notes(SettledTrace seen, SettledTrace told)
    {
        if (seen.Solved.Cards.Count > 1 || told.Uncertainty.Figures.Estimate is null)
            yield break;
        (double before, double after) = (seen.Figures.Shape.LengthMm, told.Figures.Shape.LengthMm);
        double percent = 100 * ((after / before) - 1);
        bool alone = told.Uncertainty.LengthFromCalibrationMm < AloneShare * seen.Uncertainty.LengthFromCalibrationMm;
        yield return Finding.Note(
            FindingCode.CardOffPlane,
            $"With one card, {(alone ? "what was taped alone now sets the scale" : "what was taped moves the scale")}: the traced blank is {Math.Abs(percent):0.00} % {(percent < 0 ? "shorter" : "longer")} than by the card, "
            + "and nothing in the photo could contradict a wrong tape: check it by a second card near the rod's other end, or by taping another distance with another tape.");
    }
}

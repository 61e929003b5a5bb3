using DeflectScan.Calibration;
using DeflectScan.Layout;

namespace DeflectScan.Measuring.Figures;

/// <summary>Says what the uncertainty of the figures that matter comes from, and what can be done about the largest parts.</summary>
internal static class UncertaintyBudget
{
    /// <summary>Parts below this share of a figure's variance are not worth doing anything about.</summary>
    private const double WorthDoing = 0.15;

    public static BudgetReport Of(LayoutUncertainty u, LayoutResult layout, PlaneSolution solved)
    {
        int gap = u.GapAt(layout.LargestGap);
        int bow = u.BowAt(layout.LargestBow);
        double Part(int figure, UncertaintyCause cause) => LayoutUncertainty.Coverage * Math.Sqrt(u.Figures.Variance(figure, cause));
        double Share(UncertaintyCause cause) => new[] { gap, bow, 0 }.Max(f => u.Figures.Variance(f, cause) / u.Figures.Variance(f));
        return new BudgetReport(
        [
            .. u.Figures.Causes.OrderByDescending(Share).ThenBy(c => c).Select(cause => new BudgetLine(
                cause, Part(gap, cause), Part(bow, cause), Part(0, cause), Share(cause) > WorthDoing ? Advice(cause, solved) : null)),
        ]);
    }

    private static string Advice(UncertaintyCause cause, PlaneSolution solved) => cause switch
    {
        UncertaintyCause.Scale => solved.Cards.Count == 1 ? "Stand a second card near the rod's other end." : "Go closer or use more pixels on the cards.",
        UncertaintyCause.CardPrint => "Measure the card's 100 mm rule with a steel rule.",
        UncertaintyCause.Tilt => solved.Cards.Count == 1 ? "Stand a second card near the rod's other end." : "Stand the cards farther apart, and step back.",
        UncertaintyCause.Lens => "Calibrate the lens, or step back so that the rod lies nearer the picture's middle.",
        UncertaintyCause.CardOff => solved.Cards.Count == 1
            ? "Stand a second card near the rod's other end: one alone cannot show that it stands off the plane or leans."
            : "Set the cards into the rod's plane more closely and say how close they stand, step back, or tape a distance.",
        UncertaintyCause.CardFlat => "Glue the cards on stiff, flat board.",
        UncertaintyCause.Blank => "Use a plainer background and softer light, or more pixels on the blank.",
        UncertaintyCause.TipEnd => "It moves every station alike: tape the first guide from the tip-top if that matters.",
        UncertaintyCause.Line => "Use a line that stands out, or more pixels on it.",
        _ => "Where the line hardly turns at a ring, its place is loose: tape a distance where it matters.",
    };
}

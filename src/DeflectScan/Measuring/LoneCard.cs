using DeflectScan.Calibration;
using DeflectScan.Findings;

namespace DeflectScan.Measuring;

/// <summary>One card alone gives the plane: nothing in the photo shows that it stands off the rod's plane or leans against it.</summary>
internal static class LoneCard
{
    public static IEnumerable<Finding> Notes(PlaneSolution solved)
    {
        if (solved.Cards.Count == 1)
        {
            yield return Finding.Note(
                FindingCode.CardOffPlane,
                $"Card {solved.Cards[0].Letter} alone gives the scale, and one card cannot show that it stands off the rod's plane or leans: the stated uncertainties allow for a card set up by hand; stand a second card near the rod's other end.");
        }
    }
}

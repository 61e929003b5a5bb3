using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;

namespace DeflectScan.Calibration;

/// <summary>
/// What the photo cannot show of the cards and a person may assume: each a little off the rod plane, each a little bent. For every card the
/// plane is fitted again with that card displaced by one standard deviation; the change is the cause's effect on every figure.
/// </summary>
internal static class AssumedCards
{
    /// <summary>How far a card is put off to see what that does: large beside rounding, small enough that the effect is in proportion.</summary>
    private const double OffMm = 4;

    public static IEnumerable<(RodPlane Plane, UncertaintyCause Cause)> Variants(PlaneFit fit, LensPrior lens, CalibrationOptions options, Vec2 middlePx)
    {
        if (MayStand(fit))
            yield break;
        double off = options.AssumedOffPlaneMm / Math.Sqrt(3); // uniform distribution: JCGM 100:2008, 4.3.7
        double bend = options.AssumedBendMm / Math.Sqrt(3);
        const double Half = ScaleCard.PatternHeightMm / 2;
        if (fit.Problem.Cards.Count == 1)
        {
            off = Math.Max(off, options.LoneCardHeightSdMm);
            double lean = Math.Tan(options.LoneCardLeanSdDeg * Math.PI / 180);
            if (lean > 0)
            {
                yield return (Refitted((_, mm) => lean * mm.X), UncertaintyCause.CardOff);
                yield return (Refitted((_, mm) => lean * mm.Y), UncertaintyCause.CardOff);
            }
        }

        for (int card = 0; card < fit.Problem.Cards.Count; card++)
        {
            int one = card;
            if (off > 0)
                yield return (Refitted((c, _) => c == one ? off : 0), UncertaintyCause.CardOff);
            if (bend > 0)
                yield return (Refitted((c, mm) => c == one ? bend * ((1.0 / 3) - (mm.Y * mm.Y / (Half * Half))) : 0), UncertaintyCause.CardFlat);
        }

        RodPlane Refitted(Func<int, Vec2, double> relief) => AssumedCards.Refitted(fit, lens, options, middlePx, relief);
    }

    /// <summary>The plane as it would be if a card stood <see cref="PlaneOfCardOff.Mm"/> nearer to the camera than the rod's plane, card by card; none where their standing was solved.</summary>
    public static IReadOnlyList<PlaneOfCardOff> Off(PlaneFit fit, LensPrior lens, CalibrationOptions options, Vec2 middlePx) => MayStand(fit)
        ? []
        : [.. fit.Problem.Cards.Select((card, one) => new PlaneOfCardOff(card.Letter, OffMm, Refitted(fit, lens, options, middlePx, (c, _) => c == one ? OffMm : 0)))];

    // Where cards were let out of the plane already, their standing is in the covariance.
    private static bool MayStand(PlaneFit fit) => Enumerable.Range(0, fit.Problem.Cards.Count).Any(c => fit.Problem.StandAt(c) >= 0);

    private static RodPlane Refitted(PlaneFit fit, LensPrior lens, CalibrationOptions options, Vec2 middlePx, Func<int, Vec2, double> relief)
    {
        PlaneFit moved = fit.Relieved(relief, lens, Math.Max(options.LeastCornerSdPx, fit.Fit.SdPx));
        return PlaneFrame.Of(moved.Problem.Camera(moved.Fit.X), moved.Problem.Homography(moved.Fit.X), middlePx).Plane;
    }
}

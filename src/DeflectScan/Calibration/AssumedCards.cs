using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;

namespace DeflectScan.Calibration;

/// <summary>
/// What the photo cannot show of the cards and a person may assume: each a little off the rod plane, each a little bent. For every card the
/// plane is fitted again with that card displaced by one standard deviation; the change is the cause's effect on every figure.
/// </summary>
internal static class AssumedCards
{
    public static IEnumerable<(RodPlane Plane, UncertaintyCause Cause)> Variants(PlaneFit fit, LensPrior lens, CalibrationOptions options, Vec2 middlePx)
    {
        // Where cards were let out of the plane already, their standing is in the covariance.
        if (Enumerable.Range(0, fit.Problem.Cards.Count).Any(c => fit.Problem.StandAt(c) >= 0))
            yield break;
        double sdPx = Math.Max(options.LeastCornerSdPx, fit.Fit.SdPx);
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

        RodPlane Refitted(Func<int, Vec2, double> relief)
        {
            PlaneFit moved = fit.Relieved(relief, lens, sdPx);
            return PlaneFrame.Of(moved.Problem.Camera(moved.Fit.X), moved.Problem.Homography(moved.Fit.X), middlePx).Plane;
        }
    }
}

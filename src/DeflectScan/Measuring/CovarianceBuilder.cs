using DeflectScan.Calibration;
using DeflectScan.Measuring.Figures;

namespace DeflectScan.Measuring;

/// <summary>The part of the figures' covariance that a document keeps: stations and gaps, which a person can measure by hand.</summary>
internal static class CovarianceBuilder
{
    public static FigureCovariance Of(SettledTrace settled)
    {
        LayoutUncertainty u = settled.Uncertainty;
        int[] kept = Kept(u);
        return new FigureCovariance(
            [.. kept.Select((a, i) => (IReadOnlyList<double>)[.. kept.Take(i + 1).Select(b => u.Figures.Covariance(a, b))])],
            settled.CardsOff);
    }

    /// <summary>What each card standing off does to the kept figures of a trace, by working them out again in the plane that the photo then gives.</summary>
    public static IReadOnlyList<CardOffEffect> CardsOff(PlaneSolution solved, PlaneTrace trace, LayoutFigures figures, LayoutUncertainty u, Layout.GuideSide side)
    {
        double[] row = figures.Row();
        int[] kept = Kept(u);
        return
        [
            .. solved.CardsOff.Select(off =>
            {
                double[] moved = LayoutFigures.Of(trace.CarriedTo(off.Plane, solved.Plane), side).Row();
                return new CardOffEffect(off.Letter, [.. kept.Select(k => (moved[k] - row[k]) / off.Mm)]);
            }).OrderBy(e => e.Letter),
        ];
    }

    // Places in the row of LayoutFigures: stations but the tip-top's, gaps.
    private static int[] Kept(LayoutUncertainty u) => [.. Enumerable.Range(0, u.Rings - 1), .. Enumerable.Range(0, u.Rings - 1).Select(u.GapAt)];
}

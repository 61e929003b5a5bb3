using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Geometry.Propagation;
using DeflectScan.Layout;
using DeflectScan.Measuring.Figures;
using DeflectScan.Photos;
using DeflectScan.Tracing;

namespace DeflectScan.Measuring;

/// <summary>
/// Plane, trace and figures that agree with each other and with what a person taped: the adjustment moves plane and rings themselves, and
/// everything is worked out from them again.
/// </summary>
/// <param name="Solved">With the plane as the tape leaves it.</param>
/// <param name="Trace">In that plane.</param>
/// <param name="Line">In that plane.</param>
/// <param name="Figures">Of that trace.</param>
/// <param name="Uncertainty">About those figures.</param>
internal sealed record SettledTrace(PlaneSolution Solved, PlaneTrace Trace, LineTrace Line, LayoutFigures Figures, LayoutUncertainty Uncertainty)
{
    /// <summary>What a card off the rod's plane does to stations and gaps; as seen in the plane before a tape moved it, which changes it by less than a hundredth.</summary>
    public IReadOnlyList<CardOffEffect> CardsOff { get; private init; } = [];

    public static SettledTrace Of(UprightPhoto photo, PlaneSolution solved, PlaneTrace trace, LineTrace line, MeasureOptions options, FindingLedger ledger)
    {
        LayoutFigures figures = FiguresOf(trace, line);
        LayoutUncertainty uncertainty = LayoutUncertainty.Of(trace, figures, line.Rings, solved.Plane, Side(line));
        SettledTrace seen = new(solved, trace, line, figures, uncertainty) { CardsOff = CovarianceBuilder.CardsOff(solved, trace, figures, uncertainty, Side(line)) };
        SettledTrace told = seen.Told(Tell, ledger);
        ledger.Add(ScaleByTape.Notes(seen, told));
        return told;

        LayoutUncertainty Tell(LayoutUncertainty before, FindingLedger to) =>
            TapeCheck.Use(LengthCheck.Use(before, photo, solved.Plane, trace, options.BlankLengthMm, to), options.Taped, to);
    }

    /// <summary>Adjusted to what a person told, in two steps of Gauss and Newton's: what a bent card does to a plane is not quite linear.</summary>
    /// <param name="tell">The adjustment.</param>
    /// <param name="ledger">Where it reports contradictions.</param>
    public SettledTrace Told(Func<LayoutUncertainty, FindingLedger, LayoutUncertainty> tell, FindingLedger ledger)
    {
        LayoutUncertainty linear = tell(Uncertainty, ledger);
        if (linear.Figures.Estimate is null)
            return this;
        SettledTrace first = With(linear);
        double[] row = first.Figures.Row();
        Propagated<UncertaintyCause> bent = Uncertainty.Figures.About([.. Uncertainty.Figures.Values.Select((v, i) => v + row[i] - linear.Figures.Values[i])]);
        LayoutUncertainty again = tell(Uncertainty with { Figures = bent }, new FindingLedger());
        return again.Figures.Estimate is null ? first : With(again);
    }

    public static GuideSide Side(LineTrace line) => line.Side == BendSide.Inside ? GuideSide.Inside : GuideSide.Outside;

    // Plane and rings where the adjusted causes put them.
    private SettledTrace With(LayoutUncertainty adjusted)
    {
        CauseEstimate estimate = adjusted.Figures.Estimate!;
        RodPlane from = Solved.Plane;
        RodPlane to = from.Displaced(estimate.Mean);
        int n = estimate.Mean.Count;
        IReadOnlyList<UncertaintyCause> causes = adjusted.Figures.DisplacementCauses;
        to = to.WithVariants([.. Enumerable.Range(0, n).Select(c => (from.Displaced([.. estimate.Mean.Select((m, i) => m + estimate.Root[i, c])]), causes[c]))]);

        Vec2[] contacts = [.. Trace.ContactsMm];
        for (int i = 0; i < Line.Rings.Count; i++)
        {
            (Vec2 along, Vec2 across) = LayoutUncertainty.RingSdMm(Trace, Figures, Line.Rings[i], i);
            int at = from.Variants.Count + (2 * i);
            contacts[i] += (along * estimate.Mean[at]) + (across * estimate.Mean[at + 1]);
        }

        contacts[^1] += LayoutUncertainty.TipEndSd(Trace) * estimate.Mean[from.Variants.Count + (2 * Line.Rings.Count)];
        PlaneTrace moved = (Trace with { ContactsMm = contacts }).CarriedTo(to, from);
        LineTrace line = Line.CarriedTo(to, from);
        line = line with { Rings = [.. line.Rings.Select((r, i) => r with { ContactMm = moved.ContactsMm[i] })] };
        LayoutFigures figures = FiguresOf(moved, line);
        return new SettledTrace(Solved.In(to), moved, line, figures, adjusted with { Figures = adjusted.Figures.About(figures.Row()) }) { CardsOff = CardsOff };
    }

    private static LayoutFigures FiguresOf(PlaneTrace trace, LineTrace line) => LayoutFigures.Of(trace, Side(line), line.ReelEndMm, line.HangEndMm);
}

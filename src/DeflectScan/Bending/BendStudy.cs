using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Layout;
using DeflectScan.Layout.Spacing;
using DeflectScan.Layout.Suggesting;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;

namespace DeflectScan.Bending;

/// <summary>From an estimated blank and its measured layout to the bends that are asked for, with the layouts judged on each.</summary>
public static class BendStudy
{
    private const double SampleMm = 20;
    private const double LongestFactor = 20;

    /// <summary>The report, or a refusal when a bend cannot be had.</summary>
    /// <param name="rod">The reference document's rod.</param>
    /// <param name="estimate">Its stiffness, and what was noticed on the way.</param>
    /// <param name="request">What is asked for.</param>
    public static Outcome<BendReport> Of(MeasuredLayout rod, Outcome<StiffnessEstimate> estimate, BendRequest request)
    {
        if (estimate.Value is not { } blank)
            return Outcome<BendReport>.Refused(estimate.Findings);
        List<(AskedBend Asked, PredictedBend Bend, RodAtBend Rod)> bends = [];
        foreach (AskedBend asked in request.Bends.Count > 0 ? request.Bends : UsualBends.For(blank).Bends)
        {
            Outcome<PredictedBend> predicted = asked.Factor is { } factor ? BendPredictor.AtFactor(blank, factor) : BendPredictor.AtTipTurn(blank, asked.TipTurnDeg!.Value);
            if (predicted.IsRefused)
                return Outcome<BendReport>.Refused([.. predicted.Findings]);
            if (predicted.Value.LoadFactor > LongestFactor)
                return Outcome<BendReport>.Refused(FindingCode.BendExcessive, $"{asked.Name} would take more than {LongestFactor} times the photographed load: ask for a smaller bend.");
            bends.Add((asked, predicted.Value, new RodAtBend(rod, predicted.Value.Curve)));
        }

        int lastHeld = (request.HoldGuides is { } told ? RunningPairs.Reduction(rod.Side, rod.Rings.Count, told) : rod.Reduction) - 1;
        RangePlan? plan = PlanOver([.. bends.Select(b => b.Rod)], rod.Rings, lastHeld);
        Outcome<LineBendReport>? line = LinePulled.Of(rod, blank, request);
        if (line is { IsRefused: true })
            return Outcome<BendReport>.Refused(line.Findings);
        BendCase[] cases = [.. bends.Select(b => Case(b.Asked, b.Bend, b.Rod, rod, blank, lastHeld, plan))];
        List<Finding> findings = [.. estimate.Findings, .. bends.SelectMany(b => b.Bend.Cautions)];
        return Outcome<BendReport>.Of(
            new BendReport(
                KnownOfBlankOf(blank),
                cases,
                plan is null ? null : Range(plan, cases, bends[0].Rod, lastHeld),
                line?.Value,
                [.. estimate.Findings.Select(f => f.Message)],
                BendLimits.Practice),
            [.. findings.Distinct()]);
    }

    internal static IReadOnlyList<BendSample> Samples(Bend bend, Func<double, double> uncertaintyMm, StiffnessEstimate blank)
    {
        int n = (int)Math.Ceiling(blank.LengthMm / SampleMm);
        return [.. Enumerable.Range(0, n + 1).Select(i => blank.LengthMm * i / n).Select(s => new BendSample(s, bend.PointAt(s), uncertaintyMm(s), blank.IsTold(s)))];
    }

    internal static KnownOfBlank KnownOfBlankOf(StiffnessEstimate blank) => new(
        blank.LengthMm,
        blank.LoadN,
        blank.Photos.Count(p => p.ForceRatio > 0),
        blank.Told,
        blank.WeightOverLoad.Share,
        2 * blank.WeightOverLoad.Sd,
        blank.RestIsKnown,
        blank.WeightIsKnown,
        blank.Photos[blank.ReferencePhoto].RmsMm,
        [.. blank.Photos.Where((p, i) => i != blank.ReferencePhoto && p.ForceRatio > 0).Select(p => new LoadRatio(p.ForceRatio, 2 * p.ForceRatioSd))]);

    private static BendCase Case(
        AskedBend asked, PredictedBend predicted, RodAtBend bent, MeasuredLayout rod, StiffnessEstimate blank, int lastHeld, RangePlan? plan)
    {
        Bend bend = predicted.Bend;
        IReadOnlyList<BendPair> pairs = bent.Pairs(predicted);
        double ownSd = predicted.LoadFactorSd / predicted.LoadFactor;
        double loadSd = blank.LoadN is null ? ownSd : double.Hypot(ownSd, LoadSdShare(blank));
        return new BendCase(
            asked.Name,
            predicted.LoadFactor,
            predicted.LoadN,
            2 * loadSd,
            bend.TipTurnDeg,
            asked.Factor is null ? 0 : 2 * predicted.TipTurnSdDeg,
            bend.TipMm,
            2 * predicted.NormalSdMm[0],
            2 * predicted.PlaceSdMm(0),
            predicted.LoadFactor > blank.LargestForceRatio * (1 + BendLimits.MeasuredMargin),
            Samples(bend, s => 2 * predicted.NormalSdAt(s), blank),
            pairs,
            bent.InShort(bent.Rings, lastHeld),
            Best(bent, rod.Rings, lastHeld),
            plan is null ? null : bent.InShort(bent.At(plan.StationsMm, lastHeld), lastHeld),
            [.. predicted.Cautions.Select(f => f.Message)]);
    }

    private static double LoadSdShare(StiffnessEstimate blank) => blank.StiffnessSdShare(0) is var all && blank.RatioSdShare(0) is var own ? Math.Sqrt(Math.Max(0, (all * all) - (own * own))) : 0;

    private static LayoutAtBend? Best(RodAtBend bent, IReadOnlyList<RingPoint> rings, int lastHeld)
    {
        RunningSpan span = RunningSpan.ForBow(rings[lastHeld].StationMm, rings[^1].StationMm);
        return SpacingRule.TryBest(bent.Shape, span, rings.Count - 2 - lastHeld, new SpacingOptions(), out SpacingPlan? plan)
            ? bent.InShort(bent.At(plan.StationsMm, lastHeld), lastHeld)
            : null;
    }

    private static RangePlan? PlanOver(IReadOnlyList<RodAtBend> bends, IReadOnlyList<RingPoint> rings, int lastHeld) =>
        rings[lastHeld].StationMm > rings[^1].StationMm
        && rings.Count - 2 - lastHeld >= 0
        && SpacingOverBends.TryBest(
            [.. bends.Select(b => b.Shape)], rings[lastHeld].StationMm, rings[^1].StationMm, rings.Count - 2 - lastHeld, new SpacingOptions(), out RangePlan? plan)
            ? plan
            : null;

    private static RangeLayout Range(RangePlan plan, BendCase[] cases, RodAtBend any, int lastHeld) => new(
        [.. any.At(plan.StationsMm, lastHeld).Select(r => r.StationMm)],
        plan.WorstRatio,
        cases.Select((c, k) => c.Present.LargestBowMm / Math.Max(plan.LeastBowsMm[k], 0.05)).Max());
}

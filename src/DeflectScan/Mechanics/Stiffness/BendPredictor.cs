using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Mechanics.Estimation;

namespace DeflectScan.Mechanics.Stiffness;

/// <summary>Bends at loads that were not photographed, from an estimated stiffness, with their uncertainty.</summary>
public static class BendPredictor
{
    private const double Radian = Math.PI / 180;

    /// <summary>The bend under <paramref name="factor"/> times the reference pull.</summary>
    /// <param name="estimate">The estimated blank.</param>
    /// <param name="factor">Pull over the reference pull; positive.</param>
    /// <param name="anchorMm">Where the cord is tied, in the photo's plane, when the pull follows the tip to it; null keeps the direction.</param>
    /// <param name="photo">The photo whose clamp end (and direction) it starts from; null for the reference.</param>
    public static Outcome<PredictedBend> AtFactor(StiffnessEstimate estimate, double factor, Vec2? anchorMm = null, int? photo = null)
    {
        int from = photo ?? estimate.ReferencePhoto;
        Outcome<Bend> solved = Solve(estimate, factor, anchorMm, from, null);
        return solved.IsRefused
            ? Outcome<PredictedBend>.Refused(solved.Findings)
            : Outcome<PredictedBend>.Of(Describe(estimate, solved.Value, factor, anchorMm, from, false), Cautions(estimate, factor, solved.Value));
    }

    /// <summary>The bend whose tip has turned by <paramref name="tipTurnDeg"/> against the clamp end, and the pull that it takes.</summary>
    /// <param name="estimate">The estimated blank.</param>
    /// <param name="tipTurnDeg">Degrees, positive.</param>
    /// <param name="anchorMm">As in <see cref="AtFactor"/>.</param>
    /// <param name="photo">As in <see cref="AtFactor"/>.</param>
    public static Outcome<PredictedBend> AtTipTurn(StiffnessEstimate estimate, double tipTurnDeg, Vec2? anchorMm = null, int? photo = null)
    {
        int from = photo ?? estimate.ReferencePhoto;
        FittedPhoto fitted = estimate.Photos[from];
        double start = Math.Max(fitted.ForceRatio, 1e-3) * Math.Clamp(tipTurnDeg / Math.Max(fitted.TipTurnDeg, 5), 0.02, 4);
        (double factor, Outcome<Bend> solved) = TipTurnSearch.Find(tipTurnDeg, start, (f, near) => Solve(estimate, f, anchorMm, from, near));
        return solved.IsRefused
            ? Outcome<PredictedBend>.Refused(solved.Findings)
            : Outcome<PredictedBend>.Of(Describe(estimate, solved.Value, factor, anchorMm, from, true), Cautions(estimate, factor, solved.Value));
    }

    private static Outcome<Bend> Solve(StiffnessEstimate estimate, double factor, Vec2? anchorMm, int photo, Bend? near)
    {
        double force = factor * (estimate.LoadN ?? 1);
        EndLoad load = anchorMm is { } anchor
            ? new TowardsAnchor(force, anchor)
            : new FixedDirection(force, estimate.Photos[photo].PullDirectionDeg);
        return BendSolver.Solve(estimate.Model(), estimate.Photos[photo].Clamp, load, new BendOptions { Steps = estimate.Setup.Options.Steps }, null, near);
    }

    private static PredictedBend Describe(StiffnessEstimate estimate, Bend bend, double factor, Vec2? anchorMm, int photo, bool byTurn)
    {
        EstimateSetup setup = estimate.Setup;
        double[] x = estimate.Fit.X;
        Unknowns u = setup.Unknowns;
        TangentTrace there = setup.Shooting.Run(
            x.AsSpan(0, u.Profile), x.AsSpan(u.Profile, u.Natural), x[u.Weight], estimate.Photos[photo].Clamp.Down,
            bend.AnglesRad[0], Math.Atan2(bend.TipForceN.Y, bend.TipForceN.X), factor);
        PullRule rule = (byTurn, anchorMm is not null) switch
        {
            (false, false) => PullRule.Factor,
            (false, true) => PullRule.FactorToAnchor,
            (true, false) => PullRule.TipTurn,
            _ => PullRule.TipTurnToAnchor,
        };
        Vec2 cord = anchorMm is { } anchor ? anchor - bend.TipMm : bend.TipForceN.Normalized();
        (double[] sd, double turnSd, double factorSd, List<Vec2[]> ways) =
            new PredictionSpread(estimate, photo, there, rule, cord).Spread(estimate.Covariance);
        return new PredictedBend(
            bend,
            factor,
            byTurn ? factorSd * factor : 0,
            estimate.LoadN * factor,
            [.. sd.Select(s => double.Hypot(s, setup.Options.UnseenBendShare * estimate.LengthMm))],
            turnSd / Radian,
            [.. ways])
        {
            Cautions = Cautions(estimate, factor, bend),
        };
    }

    private static IReadOnlyList<Finding> Cautions(StiffnessEstimate estimate, double factor, Bend bend) =>
        [.. BendLimits.BeyondMeasured(factor, estimate.LargestForceRatio), .. BendLimits.TipBeyondSquare(bend)];
}

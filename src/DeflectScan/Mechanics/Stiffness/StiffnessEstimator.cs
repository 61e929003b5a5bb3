using DeflectScan.Findings;
using DeflectScan.Mechanics.Estimation;

namespace DeflectScan.Mechanics.Stiffness;

/// <summary>
/// The blank's stiffness from how it bends: the only pull is the cord's along a known line through the tip, so EI/F = lever arm / curvature.
/// Fits q = (EI/F)^(1/4), which is nearly straight in real blanks, as a cubic spline with a penalty on q'' to all measured points at once,
/// integrating the large-deflection equations from the tip; tip angle and place, the cord's direction, own weight and natural curvature are
/// fitted with it, each with what is known of it, so that what was left out widens the result. The penalty's weight is the one of largest
/// marginal likelihood (Laplace).
/// </summary>
public static class StiffnessEstimator
{
    private const int FewestPoints = 20;

    /// <summary>The estimate from one photo or several of the same blank, held alike.</summary>
    /// <param name="bends">One loaded photo at least; a photo at rest may be among them. The first loaded one sets the reference force.</param>
    /// <param name="weight">What blank and guides weigh, when known.</param>
    /// <param name="options">Null for the defaults.</param>
    public static Outcome<StiffnessEstimate> Estimate(
        IReadOnlyList<MeasuredBend> bends, OwnWeight? weight = null, StiffnessOptions? options = null)
    {
        options ??= new StiffnessOptions();
        if (Check(bends) is { } refusal)
            return Outcome<StiffnessEstimate>.Refused(refusal);
        if (EstimateSetup.Of(bends, weight, options) is not { } setup)
        {
            return Outcome<StiffnessEstimate>.Refused(
                FindingCode.BendTooSmall, "The blank does not bend towards the cord: check the cord's direction, or load the blank more and take the photo again.");
        }

        if (EstimateSetup.Fit(setup) is not { } fitted)
        {
            return Outcome<StiffnessEstimate>.Refused(
                FindingCode.GuidesUncertain, "No stiffness fits the measured bend: check that the traced curve is the blank and that the cord's direction is right.");
        }

        StiffnessEstimate estimate = new(fitted.Setup, fitted.Fit);
        return Outcome<StiffnessEstimate>.Of(estimate, [.. StiffnessFindings.Of(estimate)]);
    }

    private static Finding? Check(IReadOnlyList<MeasuredBend> bends)
    {
        if (!bends.Any(b => !b.IsAtRest))
            return Finding.Refuse(FindingCode.BendTooSmall, "No photo shows the blank under load: give one with the cord pulling.");
        if (bends.Any(b => b.AxisMm.Count < FewestPoints))
            return Finding.Refuse(FindingCode.RodNotFound, $"The blank was traced in fewer than {FewestPoints} places: take the photo again so that all of it is seen.");
        return null;
    }
}

using DeflectScan.Layout.Spacing;

namespace DeflectScan.Layout.Start;

/// <summary>How running guides were carried over.</summary>
public enum CarryMethod
{
    /// <summary>By the smallest largest bow on the other blank's own measured bend.</summary>
    EqualBow,

    /// <summary>In proportion between the last reduction guide and the tip, as the other blank's bend is not known.</summary>
    Proportion,
}

/// <summary>A layout on another blank.</summary>
/// <param name="FromReelMm">All guides from the reel to the tip-top, measured from the reel's front.</param>
/// <param name="FromTipMm">The same from the other blank's tip.</param>
/// <param name="Method">How the running guides were placed.</param>
/// <param name="Says">One plain sentence about it.</param>
public sealed record CarriedLayout(IReadOnlyList<double> FromReelMm, IReadOnlyList<double> FromTipMm, CarryMethod Method, string Says);

/// <summary>
/// Carries a layout over to a blank of another length or bend: reduction guides keep their distance from the reel, as they follow from the reel
/// and not from the blank; running guides are placed anew.
/// </summary>
public static class CarryOver
{
    /// <summary>The layout on another blank.</summary>
    /// <param name="fromReelMm">Guides as measured from the reel's front, from the reel to the tip-top: the last one is the tip.</param>
    /// <param name="reductionCount">How many guides from the reel are reduction guides; at least one.</param>
    /// <param name="reelToTipMm">From the reel's front to the tip on the other blank.</param>
    /// <param name="bend">The other blank's measured bend, if there is one.</param>
    /// <param name="spacing">How running guides may be placed on it.</param>
    /// <returns>The layout; null when the reduction guides do not fit on the other blank.</returns>
    public static CarriedLayout? To(
        IReadOnlyList<double> fromReelMm, int reductionCount, double reelToTipMm, BlankShape? bend, SpacingOptions spacing)
    {
        int held = Math.Clamp(reductionCount, 1, fromReelMm.Count - 1);
        int running = fromReelMm.Count - 1 - held;
        double lastHeld = fromReelMm[held - 1];
        if (reelToTipMm - lastHeld < (running + 1) * spacing.LeastSpacingMm)
            return null;
        if (bend is not null
            && bend.LengthMm >= reelToTipMm - lastHeld
            && SpacingRule.TryBest(bend, RunningSpan.ForBow(reelToTipMm - lastHeld, 0), running, spacing, out SpacingPlan? plan))
        {
            return Laid(
                [.. fromReelMm.Take(held), .. plan.StationsMm.Select(s => reelToTipMm - s), reelToTipMm],
                CarryMethod.EqualBow,
                $"Reduction guides keep their distance from the reel; running guides are placed by equal bow, at most {plan.LargestMm:F1} mm, on this blank's own bend.");
        }

        double scale = (reelToTipMm - lastHeld) / (fromReelMm[^1] - lastHeld);
        string why = bend is null ? "its bend is not measured" : "its measured bend does not reach the last reduction guide or has no room for them";
        return Laid(
            [.. fromReelMm.Take(held), .. fromReelMm.Skip(held).Select(s => lastHeld + ((s - lastHeld) * scale))],
            CarryMethod.Proportion,
            $"Reduction guides keep their distance from the reel; running guides are placed in proportion on this blank, as {why}.");

        CarriedLayout Laid(double[] stations, CarryMethod method, string says) =>
            new(stations, [.. stations.Select(s => reelToTipMm - s)], method, says);
    }
}

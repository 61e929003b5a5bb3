using DeflectScan.Findings;

namespace DeflectScan.Mechanics.Stiffness;

/// <summary>What a person should know of an estimate before using it.</summary>
internal static class StiffnessFindings
{
    public static IEnumerable<Finding> Of(StiffnessEstimate estimate)
    {
        if (estimate.Photos.Max(p => p.TipTurnDeg) < 20)
        {
            yield return Finding.Review(
                FindingCode.BendTooSmall,
                $"The tip turns by only {estimate.Photos.Max(p => p.TipTurnDeg):0} degrees: load the blank more (the tip turned 60 to 90 degrees) for a stiffness that holds at other loads.");
        }

        if (estimate.Photos.Max(p => p.TipTurnDeg) is var most and > BendLimits.SquareTipDeg)
        {
            foreach (Finding f in BendLimits.TipBeyondSquare(most))
                yield return f;
        }

        if (estimate.Told.Count == 0)
        {
            yield return Finding.Review(
                FindingCode.BendTooSmall, "The photo tells the stiffness of no part of the blank: trace more of it or load it more.");
        }

        if (estimate.ScatterFactor > 1.5)
        {
            yield return Finding.Review(
                FindingCode.GuidesUncertain,
                $"The traced axis lies {estimate.ScatterFactor:0.0} times further from any bend of a blank than its stated uncertainty: check the trace; the figures carry the larger scatter.");
        }
    }
}

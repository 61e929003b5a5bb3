using DeflectScan.Geometry;

namespace DeflectScan.Records.Comparing;

/// <summary>What changed between two measurements, a plain sentence each; only what the uncertainties do not leave open is said to have changed.</summary>
internal static class ChangeWords
{
    /// <summary>Degrees of turn from which two bends are not taken for one load: our own judgement.</summary>
    public const double OtherBendDeg = 3;

    public static IEnumerable<string> Of(Comparison c)
    {
        double turn = c.Shape.TurnAfterDeg - c.Shape.TurnBeforeDeg;
        if (Math.Abs(turn) > OtherBendDeg)
        {
            yield return $"The bends are not the same: over {c.Shape.CommonMm:0} mm from the tip the blank turns through {c.Shape.TurnBeforeDeg:0.0}° before and {c.Shape.TurnAfterDeg:0.0}° after. "
                + "Part of what changes comes from the load or the clamping: tie off to the same bend to compare layouts.";
        }

        foreach (string word in OfStand(c))
            yield return word;
        if (c.Before.Side != c.After.Side)
            yield return "The guides stand on the other side of the bend.";
        foreach (GuideMatch g in c.Guides)
        {
            if (g is { Before: null, AfterMm: { } at })
                yield return $"A guide was added {at:0.0} mm from the tip (guide {g.After}).";
            else if (g is { After: null, BeforeMm: { } was })
                yield return $"The guide {was:0.0} mm from the tip (guide {g.Before} before) was taken away.";
            else if (g.HasMoved)
                yield return $"Guide {g.Before} moved {Math.Abs(g.MovedMm!.Value):0.0} mm toward the {(g.MovedMm > 0 ? "reel" : "tip")} (±{Within(g.UncertaintyMm!.Value)} mm).";
        }

        if (c is { FollowsWorst: { } worst, WorstBefore: { } first, WorstAfter: { } then })
            yield return Sentence($"{then.By} of the running pair that follows worst ({first.Name} before, {then.Name} after)", worst);
        if (c.ReplacedGap is { } replaced)
            yield return Sentence("largest gap where the pairs are not the same", replaced);
        if (c.LargestGap is { } gap)
            yield return Sentence("largest gap", gap);
        if (c.LargestBow is { } bow)
            yield return Sentence("largest bow", bow);
    }

    /// <summary>Whether camera and rod stayed where they were.</summary>
    private static IEnumerable<string> OfStand(Comparison c)
    {
        if (c.Stand is not { } stand)
            yield break;
        yield return stand is { CameraStood: true, IsSeenAlike: false }
            ? "Both photos are from one stand and the camera stood still, but line or light was not seen alike in both: differences are less sure. Leave lamps and windows as they are."
            : stand.CameraStood
            ? "Both photos are from one stand and the camera stood still: what they share is not counted twice, so that differences are surer than the figures."
            : $"Both photos are from one stand, but the camera moved by {stand.CameraShiftPx:0.0} px: differences are less sure than with a camera that nobody touches.";
        yield return stand.RodMoved
            ? $"The rod itself moved, by up to {stand.RodMovedMm:0.0} mm about {stand.RodMovedAtMm:0} mm from the tip (±{Within(stand.RodMovedWithinMm)} mm)."
            : $"The rod stayed where it was, within {Within(stand.RodMovedWithinMm)} mm.";
    }

    /// <summary>An uncertainty in mm, never smaller than it is.</summary>
    internal static string Within(double mm) => $"{UnitsText.RoundedUp(mm, 0.1):0.0}";

    private static string Sentence(string what, Change c) => c.IsSure
        ? $"The {what} went from {c.BeforeMm:0.0} to {c.AfterMm:0.0} mm: {Math.Abs(c.ByMm):0.0} mm {(c.ByMm < 0 ? "less" : "more")} (±{Within(c.UncertaintyMm)} mm)."
        : $"The {what} is the same within its uncertainty: {c.BeforeMm:0.0} and {c.AfterMm:0.0} mm (±{Within(c.UncertaintyMm)} mm).";
}

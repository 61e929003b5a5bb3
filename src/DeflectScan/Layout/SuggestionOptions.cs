using DeflectScan.Layout.Spacing;

namespace DeflectScan.Layout;

/// <summary>When a suggestion is worth making, and how guides may be placed.</summary>
public sealed record SuggestionOptions
{
    /// <summary>Placing constraints; the goal is always the bow.</summary>
    public SpacingOptions Spacing { get; init; } = new();

    /// <summary>
    /// Bow over chord, no unit; a levelled layout that still exceeds it has too few guides. On an arc the line turns through about 8 × this at
    /// each ring: 0.045 is about 20 degrees, where common practice (no source) aims at 10 to 15 at mid rod and no more than 20 to 25 near the tip.
    /// </summary>
    public double SteepBowPerChord { get; init; } = 0.045;

    /// <summary>Share of the largest bow, 0 to 1, that levelling must take away to be worth rewrapping guides.</summary>
    public double LeastGainShare { get; init; } = 0.2;

    /// <summary>mm of bow that it must take away besides: less is neither seen in a photo with certainty nor felt on the rod.</summary>
    public double LeastGainMm { get; init; } = 1;

    /// <summary>mm; outside the bend a running interval with less clearance than this is told about: the line nearly lies on the blank.</summary>
    public double LeastClearanceMm { get; init; } = 0.5;

    /// <summary>mm; a guide that would shift by less stays where it is: that is how well a wrapped guide can be placed.</summary>
    public double LeastMoveMm { get; init; } = 2;

    /// <summary>The first guides from the reel that stay: 3 inside the bend (the reduction guides of a spinning rod), 1 outside (casting).</summary>
    public static int DefaultHeld(GuideSide side) => side == GuideSide.Inside ? 3 : 1;
}

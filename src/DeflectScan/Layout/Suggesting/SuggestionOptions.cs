using DeflectScan.Layout.Spacing;

namespace DeflectScan.Layout.Suggesting;

/// <summary>When a change of the layout is worth its work, and how guides may be placed: one rule for the suggestion and the desk's curve.</summary>
public sealed record SuggestionOptions
{
    /// <summary>Placing constraints; the goal is always the bow.</summary>
    public SpacingOptions Spacing { get; init; } = new();

    /// <summary>
    /// Bow over chord, no unit; a levelled layout that still exceeds it has too few guides. On an arc the line turns through about 8 × this at
    /// each ring: 0.045 is about 20 degrees, where common practice (no source) aims at 10 to 15 at mid rod and no more than 20 to 25 near the tip.
    /// </summary>
    public double SteepBowPerChord { get; init; } = 0.045;

    /// <summary>Share of the largest running bow, 0 to 1, that a change must take away to be worth rewrapping guides (judgement, no source).</summary>
    public double LeastGainShare { get; init; } = 0.2;

    /// <summary>mm of bow that it must take away besides: less is not felt on the rod (judgement, no source).</summary>
    public double LeastGainMm { get; init; } = 1;

    /// <summary>mm of bow that it must take away for each guide that is to be wrapped anew (judgement, no source): six guides for 1 mm are no advice.</summary>
    public double LeastGainPerGuideMm { get; init; } = 0.3;

    /// <summary>mm, 95 %, of what a change takes off the largest running bow; a gain within it is none. 0: the figures are taken as exact.</summary>
    public double GainUncertaintyMm { get; init; }

    /// <summary>mm, 95 %, of what a change adds to the least running clearance. 0: the figures are taken as exact.</summary>
    public double ClearanceUncertaintyMm { get; init; }

    /// <summary>mm; outside the bend a running interval with less clearance than this is told about: the line nearly lies on the blank.</summary>
    public double LeastClearanceMm { get; init; } = 0.5;

    /// <summary>The first guides from the reel that stay: 3 inside the bend (the reduction guides of a spinning rod), 1 outside (casting).</summary>
    public static int DefaultHeld(GuideSide side) => side == GuideSide.Inside ? 3 : 1;

    /// <summary>Whether a change is worth its work: it gains more than is uncertain, at least <see cref="LeastGainMm"/>, the share of the bow, and so much a guide.</summary>
    /// <param name="fromMm">Largest running bow before.</param>
    /// <param name="toMm">Largest running bow after.</param>
    /// <param name="guides">Guides that are to be wrapped anew, an added one among them.</param>
    public bool IsWorth(double fromMm, double toMm, int guides)
    {
        double gain = fromMm - toMm;
        return gain > GainUncertaintyMm && gain >= Math.Max(LeastGainMm, Math.Max(LeastGainShare * fromMm, LeastGainPerGuideMm * guides));
    }

    /// <summary>Whether the line is lifted off the blank by more than is uncertain, and noticeably.</summary>
    /// <param name="fromMm">Least running clearance before.</param>
    /// <param name="toMm">Least running clearance after.</param>
    public bool Clears(double fromMm, double toMm) => fromMm < LeastClearanceMm && toMm > fromMm + Math.Max(LeastClearanceMm, ClearanceUncertaintyMm);

    /// <summary>
    /// Whether one more guide pays: the best layout without it still makes the line turn sharply, and the best one with it takes enough off. Each guide is
    /// weight at the tip, which slows a rod.
    /// </summary>
    /// <param name="bestMm">Largest running bow of the best layout without it.</param>
    /// <param name="steepest">Its largest bow over chord.</param>
    /// <param name="moreMm">Largest running bow of the best layout with it.</param>
    public bool AnotherPays(double bestMm, double steepest, double moreMm) => steepest > SteepBowPerChord && IsWorth(bestMm, moreMm, 1);
}

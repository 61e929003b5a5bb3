using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Layout.Suggesting;

namespace DeflectScan.Desk;

/// <summary>One guide of a layout, or the tip-top, with what the line does there. mm, degrees; uncertainties expanded, 95 %.</summary>
/// <param name="Guide">Counted from 1 at the reel in this layout.</param>
/// <param name="MeasuredAs">Its number in the layout as measured; null for a guide that was not there.</param>
/// <param name="Kind">"guide" or "tip".</param>
/// <param name="StationMm">From the tip.</param>
/// <param name="FromReelMm">From the reel's front, if known.</param>
/// <param name="HeightMm">Distance of the ring point from the axis.</param>
/// <param name="HeightUncertaintyMm">Of that, with what another place or another ring leaves open.</param>
/// <param name="RingOuterMm">The ring's outer diameter, if known.</param>
/// <param name="LineAngleDeg">The angle that the line turns through; null where it is not known where the line comes from or goes to.</param>
/// <param name="LineAngleUncertaintyDeg">Of that.</param>
/// <param name="RingPx">The ring point in the photo.</param>
public sealed record JudgedGuide(
    int Guide,
    int? MeasuredAs,
    string Kind,
    double StationMm,
    double? FromReelMm,
    double HeightMm,
    double HeightUncertaintyMm,
    double? RingOuterMm,
    double? LineAngleDeg,
    double? LineAngleUncertaintyDeg,
    Vec2 RingPx)
{
    public bool IsTip => Kind == "tip";
}

/// <summary>One pair of successive guides with the contract's figures. mm; uncertainties expanded, 95 %.</summary>
public sealed record JudgedPair(
    int From,
    int To,
    double ChordMm,
    double GapMm,
    double GapUncertaintyMm,
    double GapAtMm,
    double BowMm,
    double BowUncertaintyMm,
    double BowAtMm,
    double ClearanceMm,
    double ClearanceUncertaintyMm,
    double ClearanceAtMm,
    bool TouchesBlank)
{
    /// <summary>The line clears the blank or lies on it, but which of both lies within the uncertainty.</summary>
    public bool MayTouch => Math.Abs(ClearanceMm) <= ClearanceUncertaintyMm;
}

/// <summary>A layout on the measured bend, with every figure.</summary>
/// <param name="Guides">From the reel to the tip-top.</param>
/// <param name="Pairs">Pair i joins guide i and i + 1.</param>
public sealed record JudgedLayout(IReadOnlyList<JudgedGuide> Guides, IReadOnlyList<JudgedPair> Pairs)
{
    /// <summary>The pair with the largest gap.</summary>
    public JudgedPair LargestGap => Pairs.MaxBy(p => p.GapMm)!;

    /// <summary>The pair with the largest bow.</summary>
    public JudgedPair LargestBow => Pairs.MaxBy(p => p.BowMm)!;

    /// <summary>The pair that the line comes nearest to the blank in.</summary>
    public JudgedPair LeastClearance => Pairs.MinBy(p => p.ClearanceMm)!;

    /// <summary>The running pair that follows worst, by the rule of <see cref="RunningPairs"/>.</summary>
    public JudgedPair? FollowsWorst { get; init; }

    /// <summary>Guides from the reel that are reduction guides.</summary>
    public int ReductionGuides { get; init; }

    /// <summary>The layout as the document has it, with the measured uncertainties.</summary>
    /// <param name="rod">The rod.</param>
    /// <param name="reduction">Guides from the reel that are reduction guides; null: as the rod has them.</param>
    public static JudgedLayout Measured(MeasuredLayout rod, int? reduction = null) =>
        PredictedLayout.Judge(rod, [.. rod.Rings.Select((r, i) => new PlannedRing(new SuggestedRing(i, r), 0, rod.Measurement.Guides[i].RingOuterMm))], reduction);
}

/// <summary>A ring of a layout to judge.</summary>
/// <param name="Ring">Where it stands and which measured guide it is.</param>
/// <param name="HeightOpenMm">What is open about its height besides the measured uncertainty, expanded, mm: another place, another ring.</param>
/// <param name="RingOuterMm">The ring's outer diameter, if known.</param>
public sealed record PlannedRing(SuggestedRing Ring, double HeightOpenMm, double? RingOuterMm);

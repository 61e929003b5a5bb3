using DeflectScan.Geometry;
using DeflectScan.Mechanics.Stiffness;

namespace DeflectScan.Bending;

/// <summary>
/// Bends of a blank at loads that were not photographed. mm, N, degrees; uncertainties expanded, 95 %; rod-plane frame of the reference document
/// (origin at its tip, x right, y up).
/// </summary>
public sealed record BendReport(
    KnownOfBlank Blank,
    IReadOnlyList<BendCase> Bends,
    RangeLayout? BestOverRange,
    LineBendReport? Line,
    IReadOnlyList<string> Warnings,
    IReadOnlyList<string> Cautions);

/// <summary>What the photos tell of the blank.</summary>
/// <param name="LengthMm">Free length from the tip to the clamp end.</param>
/// <param name="ReferenceLoadN">The photographed load; null: only relative figures are known.</param>
/// <param name="Photos">How many loaded photos.</param>
/// <param name="Told">Stretches, from the tip, whose stiffness the photos tell; elsewhere it is the profile's smooth continuation.</param>
/// <param name="WeightOverLoad">Own weight over the photographed pull, as fitted.</param>
/// <param name="WeightOverLoadUncertainty">Of that.</param>
/// <param name="RestKnown">A photo at rest was given.</param>
/// <param name="WeightKnown">Weight and load were given.</param>
/// <param name="FitRmsMm">Distance of the traced axis from the fitted bend, root mean square.</param>
/// <param name="LoadRatios">Fitted pull of each further photo over the reference's.</param>
public sealed record KnownOfBlank(
    double LengthMm,
    double? ReferenceLoadN,
    int Photos,
    IReadOnlyList<Stretch> Told,
    double WeightOverLoad,
    double WeightOverLoadUncertainty,
    bool RestKnown,
    bool WeightKnown,
    double FitRmsMm,
    IReadOnlyList<LoadRatio> LoadRatios);

/// <summary>A further photo's pull over the reference's.</summary>
public sealed record LoadRatio(double Ratio, double Uncertainty);

/// <summary>A place of a bent axis.</summary>
/// <param name="StationMm">From the tip.</param>
/// <param name="PointMm">In the rod plane.</param>
/// <param name="AcrossUncertaintyMm">Across the axis, the clamp held where it is; what bends unseen between it and the trace is in it where that was not told.</param>
/// <param name="IsTold">False where the photos do not tell the stiffness.</param>
public sealed record BendSample(double StationMm, Vec2 PointMm, double AcrossUncertaintyMm, bool IsTold);

/// <summary>A pair of guides at one bend.</summary>
public sealed record BendPair(
    int From,
    int To,
    double GapMm,
    double GapUncertaintyMm,
    double BowMm,
    double BowUncertaintyMm,
    double ClearanceMm,
    double ClearanceUncertaintyMm,
    bool TouchesBlank);

/// <summary>A layout at one bend, in short.</summary>
/// <param name="StationsMm">From the reel to the tip-top, from the tip.</param>
/// <param name="LargestGapMm">Over all pairs.</param>
/// <param name="LargestBowMm">Over the running pairs: those after the last held guide.</param>
/// <param name="LeastClearanceMm">Over all pairs.</param>
public sealed record LayoutAtBend(IReadOnlyList<double> StationsMm, double LargestGapMm, double LargestBowMm, double LeastClearanceMm);

/// <summary>One bend.</summary>
/// <param name="Asked">As asked: "1.5x", "60°".</param>
/// <param name="LoadFactor">Pull over the photographed one.</param>
/// <param name="LoadN">In N, when the photographed load is known.</param>
/// <param name="LoadUncertaintyShare">Of the load (of the factor without a scale), as a share; 0 where asked by factor without a scale.</param>
/// <param name="TipTurnDeg">Turn of the tip against the clamp end.</param>
/// <param name="TipMm">Where the tip is.</param>
/// <param name="TipAcrossUncertaintyMm">Of that, across the axis.</param>
/// <param name="TipUncertaintyMm">Of that, in any direction.</param>
/// <param name="BeyondMeasured">The load is beyond any that was photographed.</param>
/// <param name="Axis">From the tip to the clamp end.</param>
/// <param name="Pairs">The present layout.</param>
/// <param name="Present">The same in short.</param>
/// <param name="Best">The best layout of as many guides at this bend alone; null when none fits.</param>
/// <param name="OverRange">The layout that is best over all bends asked for, at this one; null when none fits.</param>
/// <param name="Warnings">Of this bend.</param>
public sealed record BendCase(
    string Asked,
    double LoadFactor,
    double? LoadN,
    double LoadUncertaintyShare,
    double TipTurnDeg,
    double TipTurnUncertaintyDeg,
    Vec2 TipMm,
    double TipAcrossUncertaintyMm,
    double TipUncertaintyMm,
    bool BeyondMeasured,
    IReadOnlyList<BendSample> Axis,
    IReadOnlyList<BendPair> Pairs,
    LayoutAtBend Present,
    LayoutAtBend? Best,
    LayoutAtBend? OverRange,
    IReadOnlyList<string> Warnings);

/// <summary>The layout that is best over the whole range of bends.</summary>
/// <param name="StationsMm">From the reel to the tip-top, from the tip.</param>
/// <param name="WorstRatio">Its largest bow over the least possible one, at the bend where that is worst.</param>
/// <param name="PresentWorstRatio">The same of the present layout.</param>
public sealed record RangeLayout(IReadOnlyList<double> StationsMm, double WorstRatio, double PresentWorstRatio);

/// <summary>What the line does to one ring.</summary>
/// <param name="Guide">Counted from 1 at the reel.</param>
/// <param name="LineAngleDeg">The angle that the line turns through.</param>
/// <param name="LoadN">The line's push on the ring; null without a scale.</param>
/// <param name="LoadFactor">The same over the photographed pull.</param>
public sealed record RingPush(int Guide, double StationMm, double LineAngleDeg, double? LoadN, double LoadFactor);

/// <summary>The bend when the pull comes through the line over the rings and not at the tip by a cord.</summary>
/// <param name="TensionN">Line tension; null without a scale.</param>
/// <param name="TensionFactor">The same over the photographed pull.</param>
/// <param name="TipTurnDeg">Turn of the tip.</param>
/// <param name="CordTipTurnDeg">Turn of the tip under the same pull by a cord.</param>
/// <param name="TipShiftMm">How far the tip lies from where the cord would bring it.</param>
/// <param name="LargestShiftMm">The same at the place of the blank where it is largest.</param>
/// <param name="LineCrossesBlank">The line would lie on the blank between two rings, which is left out.</param>
/// <param name="Rings">From the reel to the tip-top.</param>
/// <param name="Axis">From the tip to the clamp end; uncertainty as of the cord's bend.</param>
public sealed record LineBendReport(
    double? TensionN,
    double TensionFactor,
    double TipTurnDeg,
    double CordTipTurnDeg,
    double TipShiftMm,
    double LargestShiftMm,
    bool LineCrossesBlank,
    IReadOnlyList<RingPush> Rings,
    IReadOnlyList<BendSample> Axis,
    IReadOnlyList<string> Warnings);

using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Layout.Suggesting;
using DeflectScan.Photos;
using DeflectScan.Tracing;

namespace DeflectScan;

/// <summary>Whether the figures of a measurement may be trusted.</summary>
public enum MeasurementStatus
{
    /// <summary>Every figure stands within its stated uncertainty.</summary>
    Ok,

    /// <summary>A person should look at the warnings before trusting a figure.</summary>
    NeedsReview,

    /// <summary>No figures could be given.</summary>
    Refused,
}

/// <summary>
/// The result of measuring one photo: immutable, complete, and the only thing that reports, records and pages read.
/// Lengths in mm, angles in degrees, px of the upright photo. Uncertainties are expanded, 95 %.
/// </summary>
public sealed record Measurement(
    string ToolVersion,
    PhotoInfo? Photo,
    MeasurementStatus Status,
    IReadOnlyList<Finding> Findings,
    CalibrationReport? Calibration,
    BendSide? Side,
    BlankReport? Blank,
    IReadOnlyList<GuideReport> Guides,
    LineReport? Line,
    IReadOnlyList<IntervalReport> Intervals,
    LargestReport? Largest,
    SuggestionReport? Suggestion)
{
    /// <summary>Where the measured photo is expected: beside the document.</summary>
    /// <param name="documentPath">Of the document.</param>
    public string PhotoBeside(string documentPath) =>
        Path.Combine(Path.GetDirectoryName(Path.GetFullPath(documentPath))!, Path.GetFileName(Photo?.FileName ?? "photo.jpg"));

    /// <summary>What pulls the tip: the tie-off cord as seen or as told; null when neither.</summary>
    public PullReport? Pull { get; init; }

    /// <summary>Which pairs are running pairs, and which of them follows the bend worst; null where there are none, and in documents made before it was kept.</summary>
    public RunningReport? Running { get; init; }

    /// <summary>The running pair that follows worst, which every output names first; null where there is none.</summary>
    public IntervalReport? FollowsWorst
    {
        get
        {
            if (Running is { } known)
                return Intervals.FirstOrDefault(i => (i.From, i.To) == (known.From, known.To));
            if (Side is null || Intervals.Count == 0)
                return null;
            RunningReport usual = RunningReport.Of(Intervals, Side.Value, null);
            return Intervals.First(i => i.From == usual.From);
        }
    }

    /// <summary>Guides may be missing, or be none, somewhere: <see cref="MeasurementDoubts"/> says which figures stand all the same.</summary>
    public bool GuidesInDoubt => Findings.Any(f => f is { Code: FindingCode.GuidesUncertain, Severity: Severity.Review });

    /// <summary>What the uncertainties come from; null where there are no figures.</summary>
    public BudgetReport? Budget { get; init; }

    /// <summary>How the errors of stations and gaps hang together; null where there are no figures, and in documents made before it was kept.</summary>
    public FigureCovariance? Covariance { get; init; }
}

/// <summary>
/// A cause's part of the uncertainty, expanded (95 %), mm: of the largest gap, of the largest bow, and of the station of the guide nearest
/// the reel. The parts add up in squares. Do says what would make it smaller; null where it is no large part.
/// </summary>
public sealed record BudgetLine(UncertaintyCause Cause, double GapMm, double BowMm, double StationMm, string? Do);

/// <summary>What dominates the uncertainty, the largest part first.</summary>
public sealed record BudgetReport(IReadOnlyList<BudgetLine> Lines);

/// <summary>One scale card as used.</summary>
public sealed record CardReport(char Letter, int Corners, double RmsPx)
{
    /// <summary>The printed pattern's four corners in px, in order around it; empty where not known. For drawing.</summary>
    public IReadOnlyList<Vec2> OutlinePx { get; init; } = [];

    /// <summary>Direction of the print's rows in the rod plane, degrees counter-clockwise from its +x; null in documents made before it was kept.</summary>
    public double? TurnDeg { get; init; }
}

/// <summary>How the photo was scaled. Lens is "none", "exif" or a profile's name.</summary>
public sealed record CalibrationReport(
    IReadOnlyList<CardReport> Cards,
    string Lens,
    double TiltDeg,
    double DistanceMm,
    double MmPerPx,
    double ScaleUncertaintyPercent);

/// <summary>A point of the axis: station from the tip, px in the photo, mm in the rod plane (origin at the tip, x right, y up), blank diameter.</summary>
public sealed record AxisSample(double SMm, Vec2 Px, Vec2 Mm, double DiameterMm)
{
    /// <summary>Uncertainty of the place across the axis, the blank as a whole left where it is: tracing and calibration; null where not known.</summary>
    public double? AcrossUncertaintyMm { get; init; }
}

/// <summary>What pulls the tip. Directions in degrees counter-clockwise from +x of the rod plane (the axis's frame).</summary>
/// <param name="Source">How the direction is known: traced, or marked when a person gave it; null when it is not known.</param>
/// <param name="DirectionDeg">Where the cord pulls the tip to.</param>
/// <param name="DirectionUncertaintyDeg">Its uncertainty.</param>
/// <param name="PlumbDeg">Where the line hangs to under its weight: straight down; null when it was not seen.</param>
/// <param name="LoadN">The cord's load in N, when a person gave it.</param>
/// <param name="CordPx">First and last seen point of the cord in px; empty when it was not seen.</param>
public sealed record PullReport(
    Source? Source, double? DirectionDeg, double? DirectionUncertaintyDeg, double? PlumbDeg, double? LoadN, IReadOnlyList<Vec2> CordPx);

/// <summary>The blank's shape. TracedLengthMm runs from the tip to where the blank goes into the handle; TipTurnDeg is the turning over that length.</summary>
public sealed record BlankReport(double TracedLengthMm, double TipTurnDeg, IReadOnlyList<AxisSample> Axis)
{
    /// <summary>Where the reel's front is; null of a rod at rest, and in documents made before it was kept.</summary>
    public ReelFrontReport? Reel { get; init; }
}

/// <summary>How the reel's front is known.</summary>
public enum ReelFrontSource
{
    /// <summary>Read from the photo.</summary>
    Read,

    /// <summary>Placed by a person on the photo.</summary>
    Marked,

    /// <summary>From a person's taped distance to the guide nearest it.</summary>
    Taped,

    /// <summary>No reel was seen and none was given.</summary>
    NotSeen,
}

/// <summary>The reel's front on the blank's axis, which goes straight on into the handle.</summary>
/// <param name="Source">How it is known.</param>
/// <param name="StationMm">From the tip; null where it is not known.</param>
/// <param name="UncertaintyMm">Of that station; null with it.</param>
public sealed record ReelFrontReport(ReelFrontSource Source, double? StationMm, double? UncertaintyMm);

/// <summary>A guide (or the tip-top) as measured; from the reel to the tip, counted from 1.</summary>
public sealed record GuideReport(
    int Index,
    bool IsTip,
    MeasuredLength Station,
    double? FromReelMm,
    Vec2 RingPx,
    MeasuredLength Height,
    double? RingOuterMm,
    double? LineAngleDeg,
    Source Source)
{
    public double StationMm => Station.Mm;

    public double HeightMm => Height.Mm;

    /// <summary>Uncertainty of <see cref="FromReelMm"/>; null where that is, and in documents made before it was kept.</summary>
    public double? FromReelUncertaintyMm { get; init; }

    /// <summary>The part of the station's uncertainty that seeing makes, see <see cref="SeenPart"/>; null in documents made before it was kept.</summary>
    public double? StationSeenMm { get; init; }

    /// <summary>The same of the height.</summary>
    public double? HeightSeenMm { get; init; }
}

/// <summary>The line's path through the rings in px.</summary>
public sealed record LineReport(Source Source, IReadOnlyList<Vec2> VerticesPx);

/// <summary>A pair of successive guides: the contract's gap, bow and clearance.</summary>
public sealed record IntervalReport(
    int From,
    int To,
    double ChordMm,
    MeasuredLength Gap,
    double GapAtMm,
    MeasuredLength Bow,
    double BowAtMm,
    double ClearanceMm,
    double ClearanceAtMm,
    bool TouchesBlank,
    Source Source)
{
    public double GapMm => Gap.Mm;

    public double BowMm => Bow.Mm;

    /// <summary>It lies between the same line and surface as the gap and is as uncertain.</summary>
    public MeasuredLength Clearance => new(ClearanceMm, Gap.UncertaintyMm);

    /// <summary>What it is judged by: its clearance with guides outside the bend, else its bow.</summary>
    public MeasuredLength Follows(BendSide? side) => side == BendSide.Outside ? Clearance : Bow;

    /// <summary>What seeing makes of its uncertainties; null in documents made before it was kept.</summary>
    public SeenPart? Seen { get; init; }
}

/// <summary>
/// The parts of a pair's uncertainties, expanded (95 %), mm, that seeing makes: noise, line, blank and the cards' corners. What is left of the whole (lens, the
/// cards' print, place and flatness, where the tip ends) another photo from the same stand has alike, so that a difference of both does not have it.
/// </summary>
public sealed record SeenPart(double GapMm, double BowMm, double ClearanceMm);

/// <summary>The pairs with the largest gap and the largest bow.</summary>
public sealed record LargestReport(int GapFrom, int GapTo, int BowFrom, int BowTo);

/// <summary>The running pairs, by the rule of <see cref="RunningPairs"/>.</summary>
/// <param name="ReductionGuides">Guides from the reel that are reduction guides: pairs from the last of them on are running pairs.</param>
/// <param name="From">The running pair that follows worst.</param>
/// <param name="To">Its other guide.</param>
/// <param name="ByClearance">It is the one with the least clearance (outside the bend); else the one with the largest bow.</param>
public sealed record RunningReport(int ReductionGuides, int From, int To, bool ByClearance)
{
    /// <param name="pairs">All pairs, from the reel to the tip-top; one at least.</param>
    /// <param name="side">Side of the bend that the guides stand on.</param>
    /// <param name="reductionTold">What a person says of the reduction guides; null: the usual number.</param>
    public static RunningReport Of(IReadOnlyList<IntervalReport> pairs, BendSide side, int? reductionTold)
    {
        GuideSide on = side == BendSide.Inside ? GuideSide.Inside : GuideSide.Outside;
        int reduction = RunningPairs.Reduction(on, pairs.Count + 1, reductionTold);
        IntervalReport worst = pairs[RunningPairs.Worst(pairs, on, reduction, p => p.BowMm, p => p.ClearanceMm)];
        return new RunningReport(reduction, worst.From, worst.To, on == GuideSide.Outside);
    }
}

/// <summary>A guide that the suggestion moves.</summary>
public sealed record MoveReport(int Guide, double FromMm, double ToMm)
{
    /// <summary>Whether a builder can make it: see <see cref="GuideMove.CanBeMade"/>.</summary>
    public bool CanBeMade => Math.Abs(ToMm - FromMm) >= GuideMove.LeastMm;
}

/// <summary>One guide of the suggested layout: station and predicted ring point. Index is null for the added guide.</summary>
public sealed record SuggestedGuide(int? Index, double StationMm, double HeightMm, Vec2 RingPx);

/// <summary>The extra guide and the moves that level the bows; bows and gaps are the largest of the running pairs. With nothing to gain, only Why is filled and AddAtMm is null.</summary>
public sealed record SuggestionReport(
    string Why,
    double? AddAtMm,
    IReadOnlyList<MoveReport> Moves,
    double BowBeforeMm,
    double BowAfterMm,
    double GapBeforeMm,
    double GapAfterMm,
    IReadOnlyList<SuggestedGuide> Layout);

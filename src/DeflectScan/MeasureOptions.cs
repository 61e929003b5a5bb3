using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing;

namespace DeflectScan;

/// <summary>What a person may tell a measurement besides the photo. Everything is optional: the defaults measure without a hint.</summary>
public sealed record MeasureOptions
{
    /// <summary>The defaults: no hint given.</summary>
    public static MeasureOptions Default { get; } = new();

    /// <summary>How many guides stand on the blank, the tip-top not counted (1 to 30). Null: the count is found from the photo.</summary>
    public int? GuideCount { get; init; }

    /// <summary>
    /// Length of the bare blank in mm, tip to butt end, by tape (200 to 10 000). Null: unknown. Checks the scale; a contradiction is reported.
    /// </summary>
    public double? BlankLengthMm { get; init; }

    /// <summary>Side of the bend that the guides stand on. Null: found from the photo.</summary>
    public BendSide? Side { get; init; }

    /// <summary>Points that a person placed. Empty by default. Rings: see <see cref="Tracing.LineOptions.MarkedRingsPx"/>.</summary>
    public Marks Marks { get; init; } = Marks.None;

    /// <summary>
    /// Taped distance in mm along the blank from the reel's front to the first guide, the one nearest the reel (1 to 5 000). Null: unknown,
    /// and stations are given from the tip alone unless <see cref="Marks"/> has the reel's front.
    /// </summary>
    public double? FirstGuideFromReelMm { get; init; }

    /// <summary>
    /// How many guides, counted from the reel, the suggestion may not move (0 to 30). Null: three on the inside of the bend (spinning),
    /// one on the outside (casting); common practice, no source.
    /// </summary>
    public int? HoldGuides { get; init; }

    /// <summary>Measured size of the printed card pattern over its nominal size (0.5 to 2). Default 1: printed at 100 %.</summary>
    public double CardScale { get; init; } = 1;

    /// <summary>Half width of the interval that <see cref="CardScale"/> is known to lie in (0 to 0.05; uniform distribution). Default 0: as measured.</summary>
    public double CardScalePlusMinus { get; init; }

    /// <summary>How far each card may stand off the rod plane, ± mm (0 to 50). Null: not told, see <see cref="UsualCardOffMm"/>.</summary>
    public double? CardOffMm { get; init; }

    /// <summary>
    /// ± mm where nothing is told, for cards set up by eye along the rod (common practice, no source). One card alone, which no other one checks, may
    /// besides stand and lean as a card does that is set up by hand: <see cref="Calibration.CalibrationOptions.ByHandHeightSdMm"/>.
    /// </summary>
    public const double UsualCardOffMm = 2;

    /// <summary>How far a card's middle may stand out over its ends, ± mm (0 to 20). Default 0.5, for a sheet glued on stiff board (common practice, no source).</summary>
    public double CardBendMm { get; init; } = 0.5;

    /// <summary>Distances along the blank between two rings, by tape. Empty by default; they enter the adjustment, and a contradiction is reported.</summary>
    public IReadOnlyList<TapedDistance> Taped { get; init; } = [];

    /// <summary>Path of a lens profile to use. Null: one from <see cref="LensFolders"/>, the EXIF focal length, or none.</summary>
    public string? LensFile { get; init; }

    /// <summary>
    /// Direction of the cord's pull at the tip as the photo shows it, degrees counter-clockwise from the photo's right (-90 straight down;
    /// -360 to 360). Null: traced from the photo where the cord is seen.
    /// </summary>
    public double? PullDirectionDeg { get; init; }

    /// <summary>
    /// The photo shows the rod unloaded: the blank alone is measured, bent or not, for the curve that it has by itself. Default false.
    /// </summary>
    public bool AtRest { get; init; }

    /// <summary>The cord's load in N, read from a scale (0.05 to 1 000). Null: not known; the blank's stiffness is then known only relative to it.</summary>
    public double? LoadN { get; init; }

    /// <summary>Folders whose lens profiles are used where they are of the photo's camera, lens and zoom. Default: none.</summary>
    public IReadOnlyList<string> LensFolders { get; init; } = [];

    /// <summary>Unit that comes first where lengths are shown to a person. The document is in mm whatever this says.</summary>
    public LengthUnit Units { get; init; } = LengthUnit.Millimetres;

    /// <summary>A measurement that takes longer is given up (1 s to 1 h). Default 2 minutes: twenty times what a photo of 50 megapixels takes.</summary>
    public TimeSpan TimeLimit { get; init; } = TimeSpan.FromMinutes(2);

    /// <summary>What a photo file may cost before it is refused.</summary>
    public PhotoLimits PhotoLimits { get; init; } = PhotoLimits.Default;

    /// <summary>The first option out of its range, as one sentence for the user; null where all are within.</summary>
    public string? FirstProblem() =>
        GuideCount is < 1 or > 30 ? "The number of guides must be from 1 to 30, the tip-top not counted."
        : !Within(BlankLengthMm, 200, 10_000) ? "The blank's length must be from 200 to 10000 mm."
        : !Within(FirstGuideFromReelMm, 1, 5_000) ? "The first guide's distance from the reel must be from 1 to 5000 mm."
        : HoldGuides is < 0 or > 30 ? "The number of guides to hold must be from 0 to 30."
        : !Within(PullDirectionDeg, -360, 360) ? "The pull's direction must be from -360 to 360 degrees: 0 is the photo's right, -90 straight down."
        : AtRest && (PullDirectionDeg ?? LoadN) is not null ? "A rod at rest has neither a pull's direction nor a load: leave them out."
        : !Within(LoadN, 0.05, 1_000) ? "The load must be from 0.05 to 1000 N."
        : !Within(CardScale, 0.5, 2) ? "The card scale must be from 0.5 to 2: the measured size of the pattern over its nominal size."
        : TimeLimit.TotalSeconds is not (>= 1 and <= 3600) ? "The time limit must be from 1 to 3600 seconds."
        : CardScalePlusMinus is not (>= 0 and <= 0.05) ? "The card scale must be known to ± 0.05 or better."
        : CardOffMm is not (null or (>= 0 and <= 50)) ? "The cards' distance off the rod plane must be from 0 to 50 mm."
        : CardBendMm is not (>= 0 and <= 20) ? "The cards' bend must be from 0 to 20 mm."
        : Taped.Select(t => t.Problem).FirstOrDefault(p => p is not null);

    private static bool Within(double? value, double low, double high) => value is null || (value >= low && value <= high);
}

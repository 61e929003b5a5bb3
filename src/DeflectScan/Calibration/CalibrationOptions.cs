namespace DeflectScan.Calibration;

/// <summary>What is assumed when the rod plane is solved. Standard deviations are of one sigma.</summary>
public sealed record CalibrationOptions
{
    public static CalibrationOptions Default { get; } = new();

    /// <summary>Measured size of the printed pattern over its nominal size, for a printer that did not keep the scale (0.985: 1.5 % too small).</summary>
    public double CardScale { get; init; } = 1;

    /// <summary>Relative standard deviation of <see cref="CardScale"/>, common to all cards of the photo. 0: the print is taken as exact.</summary>
    public double CardScaleSd { get; init; }

    /// <summary>Standard deviation of a card's distance from the rod plane in mm, each card on its own. 0: the cards are taken to stand in it.</summary>
    public double CardOffPlaneSdMm { get; init; }

    /// <summary>Standard deviation of each of a card's two leans out of the rod plane, degrees. 0 as for the height.</summary>
    public double CardLeanSdDeg { get; init; }

    /// <summary>
    /// Each card may stand off the rod plane by up to ± this, mm, without the adjustment's knowing (uniform distribution). It widens the
    /// uncertainty and moves no figure. 0: the cards are taken to stand in the plane.
    /// </summary>
    public double AssumedOffPlaneMm { get; init; }

    /// <summary>
    /// Where one card alone gives the plane, nothing shows that it stands off the rod's plane or leans against it: standard deviation of the one, mm, instead
    /// of <see cref="AssumedOffPlaneMm"/> where that is less. It widens the uncertainty and moves no figure. 0: none besides.
    /// </summary>
    public double LoneCardHeightSdMm { get; init; }

    /// <summary>The same for each of its two leans, degrees. 0: none.</summary>
    public double LoneCardLeanSdDeg { get; init; }

    /// <summary>Each card may be bent along its long side so that its middle stands out by up to ± this, mm, over its ends; as above.</summary>
    public double AssumedBendMm { get; init; }

    /// <summary>A profile of the photo's lens; it takes the place of EXIF and of the general priors.</summary>
    public LensProfile? Lens { get; init; }

    /// <summary>Straight pieces of line in the rod plane as the photo shows them; empty: none are known. They hold the radial distortion.</summary>
    public IReadOnlyList<StraightPiece> StraightPieces { get; init; } = [];

    /// <summary>A camera near the photo's, where the straight pieces' bend is worked out; null: they are not used.</summary>
    internal CameraModel? NearCamera { get; init; }

    /// <summary>EXIF states a whole number of 35 mm equivalent mm: rounding and a little more, in those mm.</summary>
    public double ExifFocalSdMm { get; init; } = 0.35;

    /// <summary>How far phones' true focal lengths stand off what they state otherwise (relative).</summary>
    public double ExifFocalModelSd { get; init; } = 0.01;

    /// <summary>With neither EXIF nor profile: the middle of the usual 35 mm equivalent focal lengths (24 to 35 mm), in mm.</summary>
    public double UnknownFocalMm { get; init; } = 28;

    /// <summary>Relative standard deviation of <see cref="UnknownFocalMm"/>.</summary>
    public double UnknownFocalSd { get; init; } = 0.25;

    /// <summary>The principal point's distance from the picture's centre, as a share of the longer side.</summary>
    public double PrincipalSd { get; init; } = 0.005;

    /// <summary>Radial distortion r^2 of a lens whose photos are nearly straightened by the camera already.</summary>
    public double K1Sd { get; init; } = 0.03;

    /// <summary>Radial distortion r^4.</summary>
    public double K2Sd { get; init; } = 0.02;

    /// <summary>Tangential distortion, each of the two.</summary>
    public double TangentialSd { get; init; } = 0.0005;

    /// <summary>Corners are never taken to be measured better than this, px.</summary>
    public double LeastCornerSdPx { get; init; } = 0.05;

    /// <summary>A square smaller than this in the photo calls for review, px.</summary>
    public double SmallSquarePx { get; init; } = 8;

    /// <summary>A square smaller than this is not measured from, px.</summary>
    public double HopelessSquarePx { get; init; } = 5;

    /// <summary>A tilt worth a note, degrees between the camera's axis and the rod plane's normal.</summary>
    public double TiltNoteDeg { get; init; } = 20;

    /// <summary>A tilt that calls for review, degrees.</summary>
    public double TiltReviewDeg { get; init; } = 35;

    /// <summary>A scale less sure than this calls for review, 95 % in percent.</summary>
    public double UnsureScalePercent { get; init; } = 2;

    /// <summary>
    /// A card counts as off the plane when letting it leave (three more unknowns) lowers the sum of squares by more than this many
    /// noise variances. 16.3 is chi-square with 3 degrees of freedom at 0.001.
    /// </summary>
    public double OffPlaneChiSquare { get; init; } = 16.3;

    /// <summary>Standard deviation of the height at which a card set up by hand stands off the plane, mm (common practice, no source). Used where cards disagree.</summary>
    public double ByHandHeightSdMm { get; init; } = 4;

    /// <summary>The same for each of its two leans, degrees (common practice, no source).</summary>
    public double ByHandLeanSdDeg { get; init; } = 0.5;

    /// <summary>Cards that disagree call for review when even so their heights and leans add up to more squared standard deviations than this.</summary>
    public double ByHandStrain { get; init; } = 6;
}

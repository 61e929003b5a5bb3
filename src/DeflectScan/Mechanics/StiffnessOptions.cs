namespace DeflectScan.Mechanics;

/// <summary>How stiffness is estimated from measured bends.</summary>
public sealed record StiffnessOptions
{
    /// <summary>Knot intervals of the profile, closer at the tip. Default 40.</summary>
    public int KnotIntervals { get; init; } = 40;

    /// <summary>Steps of the integration from the tip. Default 150.</summary>
    public int Steps { get; init; } = 150;

    /// <summary>Length in mm of blank between the last measured point and the clamp, which bends unseen; filled in by the profile's trend. Default 0.</summary>
    public double UnseenMm { get; init; }

    /// <summary>
    /// Standard deviation in mm of <see cref="UnseenMm"/>: what more (or less) bends there turns the measured end by another angle at another load. Default 0.
    /// </summary>
    public double UnseenSdMm { get; init; }

    /// <summary>
    /// Where <see cref="UnseenMm"/> was found from how the held end turned between the photos: errors of the fit are then errors of it, too, and mostly
    /// cancel at loads between them. <see cref="UnseenSdMm"/> is what it has besides. Default null.
    /// </summary>
    public UnseenByTurn? UnseenFound { get; init; }

    /// <summary>
    /// Standard deviation in degrees of the clamp's angle against the vertical from photo to photo, where all show the same set-up, the
    /// clamp untouched; ties the photos together. Default null: not tied. Needs each photo's <see cref="MeasuredBend.Down"/>.
    /// </summary>
    public double? SameClampSdDeg { get; init; }

    /// <summary>
    /// Standard deviation in 1/m of a blank's natural curvature when no photo at rest is given: 0.018 is a tip 36 mm off the straight on
    /// 2 m. Common practice, no source.
    /// </summary>
    public double NaturalCurvatureSdPerM { get; init; } = 0.018;

    /// <summary>Standard deviation of own weight over the cord's load when neither is known. Common practice, no source.</summary>
    public double WeightShareSd { get; init; } = 0.4;

    /// <summary>Standard deviation of own weight in N per metre of free length when the load is known but the weight is not. Common practice, no source.</summary>
    public double WeightSdNPerM { get; init; } = 0.25;

    /// <summary>
    /// Standard deviation, as a share, of stiffness changes from knot to knot beside the smooth profile (wraps, joints, scarf of the
    /// cloth), mostly too short to be seen in a bend. Common practice, no source.
    /// </summary>
    public double LocalVariation { get; init; } = 0.04;

    /// <summary>
    /// Standard deviation of a predicted axis, as a share of the length, that a smooth profile leaves out around a joint or a ferrule;
    /// added to the fit's. Default 5e-5: 0.1 mm on 2 m, from made-up blanks with a ferrule that is a third stiffer.
    /// </summary>
    public double UnseenBendShare { get; init; } = 5e-5;

    /// <summary>A stretch of a twentieth of the length counts as told by the photo when its data alone would fix its stiffness to better than this share (one sd). Default 0.35.</summary>
    public double ToldShare { get; init; } = 0.35;
}

/// <summary>An unseen length that makes the clamp's angle the same in two photos.</summary>
/// <param name="Photo">Number of the photo that is compared with the first.</param>
/// <param name="RadPerMm">By how much its clamp's angle against the first one's changes with the length.</param>
public sealed record UnseenByTurn(int Photo, double RadPerMm);

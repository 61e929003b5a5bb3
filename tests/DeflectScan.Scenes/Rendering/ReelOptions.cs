namespace DeflectScan.Scenes.Rendering;

/// <summary>The shape of a reel and of what lies about it on the handle. Lengths mm before <see cref="BuildOptions.ReelScale"/>.</summary>
public sealed record ReelOptions
{
    public SpoolKind Spool { get; init; } = SpoolKind.Skirted;

    public CastingBody Casting { get; init; } = CastingBody.LowProfile;

    /// <summary>How far the spool's axis lies from the blank's, 48 to 88; of a casting reel, its sides' middle, 14 to 46.</summary>
    public double StemMm { get; init; } = 62;

    /// <summary>How far behind the front the stem stands, 24 to 78: nothing but the front itself says where it is.</summary>
    public double StemBackMm { get; init; } = 60;

    /// <summary>Thickness of the stem between a spinning reel's foot and its body, 5 to 14.</summary>
    public double StemWideMm { get; init; } = 13;

    /// <summary>Radius by which the foremost rim is rounded, 0.3 (square) to 20.</summary>
    public double RimMm { get; init; } = 4;

    /// <summary>Radius of a spool's lip or of a casting reel's side, 16 to 27.</summary>
    public double LipMm { get; init; } = 22;

    /// <summary>How far a drag knob stands out before the spool's lip, 0 to 12; its front is then the reel's.</summary>
    public double KnobMm { get; init; }

    /// <summary>
    /// Its rims stand round about the spool's axis and a casting reel's frame reaches to both sides of the rod's plane, as they do, so that an oblique view shows
    /// a rim as an ellipse; else all is drawn in the plane.
    /// </summary>
    public bool Solid { get; init; }

    /// <summary>A bail arm as a thin wire over the spool; it never reaches before the reel's front.</summary>
    public bool Bail { get; init; } = true;

    /// <summary>Share by which the spool narrows from its rotor to its lip, -0.25 to 0.35.</summary>
    public double Narrows { get; init; }

    /// <summary>Front end of the foremost hood of the seat, towards the tip of the reel's front, -45 to 25.</summary>
    public double HoodMm { get; init; } = 10;

    /// <summary>Length of each hood, 8 to 35.</summary>
    public double HoodLongMm { get; init; } = 14;

    /// <summary>Rings and pieces of grip between the hood and the handle's end, which are no reel, 0 to 4.</summary>
    public int ForePieces { get; init; } = 1;

    /// <summary>A cone or ring where the handle ends, 3 to 14 long.</summary>
    public double CheckMm { get; init; } = 5;
}

/// <summary>What a spinning reel's spool and rotor look like from the side.</summary>
public enum SpoolKind
{
    /// <summary>A rotor's skirt, wound line, a lip.</summary>
    Skirted,

    /// <summary>A cone.</summary>
    Tapering,

    /// <summary>One rounded body.</summary>
    Egg,
}

/// <summary>What a casting reel looks like from the side.</summary>
public enum CastingBody
{
    /// <summary>A drop, high behind, low in front.</summary>
    LowProfile,

    /// <summary>Round side plates.</summary>
    Round,

    /// <summary>A box with rounded ends.</summary>
    Box,
}

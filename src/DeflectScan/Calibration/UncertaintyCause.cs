namespace DeflectScan.Calibration;

/// <summary>What makes a figure uncertain: the lines of the budget.</summary>
public enum UncertaintyCause
{
    /// <summary>Noise of the cards' corners, as far as it acts on distance and places of the cards.</summary>
    Scale,

    /// <summary>How far the printed pattern is known to be of its nominal size.</summary>
    CardPrint,

    /// <summary>The camera's tilt against the rod plane.</summary>
    Tilt,

    /// <summary>Focal length, principal point and distortion.</summary>
    Lens,

    /// <summary>Cards that stand off the rod plane.</summary>
    CardOff,

    /// <summary>Cards that are not flat.</summary>
    CardFlat,

    /// <summary>Where the blank's centreline and surface are seen.</summary>
    Blank,

    /// <summary>Where the line is seen.</summary>
    Line,

    /// <summary>Where along the blank the line touches a ring.</summary>
    Rings,

    /// <summary>Where along the blank its tip ends, from which every station counts.</summary>
    TipEnd,
}

namespace DeflectScan.Reporting.Sheets;

/// <summary>What goes on a layout sheet and a marking tape. Stations are arc lengths along the blank, mm.</summary>
/// <param name="Title">The rod or build, one line; shown as it is.</param>
/// <param name="BlankLengthMm">Length of the blank from the tip: the whole of it unless <see cref="LengthIsTraced"/>.</param>
/// <param name="Guides">From the reel to the tip; the tip-top, station 0, may be among them.</param>
public sealed record SheetLayout(string Title, double BlankLengthMm, IReadOnlyList<SheetGuide> Guides)
{
    /// <summary>The length is not the whole blank's but what a photo showed of it, from the tip.</summary>
    public bool LengthIsTraced { get; init; }
}

/// <summary>One guide of a sheet.</summary>
/// <param name="Label">Its number or letter, as short as "7" or "T".</param>
/// <param name="Kind">In words: "reduction guide", "running guide", "tip-top".</param>
/// <param name="FromTipMm">Station from the tip-top's ring, along the blank.</param>
/// <param name="FromReelMm">Station from the front of the reel; null where the reel's place is not known.</param>
/// <param name="RingSizeMm">Outer diameter of the ring, if known.</param>
/// <param name="HeightMm">Ring's height over the blank's axis, if known.</param>
public sealed record SheetGuide(string Label, string Kind, double FromTipMm, double? FromReelMm, double? RingSizeMm, double? HeightMm);

/// <summary>Paper of a printed sheet.</summary>
public enum SheetPaper
{
    /// <summary>210 × 297 mm (ISO 216).</summary>
    A4,

    /// <summary>8.5 × 11 in, 215.9 × 279.4 mm (ANSI/ASME Y14.1, size A).</summary>
    Letter,
}

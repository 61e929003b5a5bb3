using DeflectScan.Geometry;

namespace DeflectScan.Reporting;

/// <summary>How the overlay is drawn.</summary>
/// <param name="MaxSidePx">Longer side of the picture, strips included, px; a smaller photo is never enlarged. More: sharper, slower, larger.</param>
/// <param name="Unit">The unit of all lengths.</param>
public sealed record OverlayOptions(int MaxSidePx = 2000, LengthUnit Unit = LengthUnit.Millimetres)
{
    /// <summary>The photo with its labels alone, without strips of words: for a sheet that says them beside it.</summary>
    public bool IsBare { get; init; }
}

using DeflectScan.Geometry;

namespace DeflectScan.Reporting.Unrolled;

/// <summary>How the unrolled strip is drawn.</summary>
/// <param name="WidthPx">Width of the picture in px; text and marks keep their share of it.</param>
/// <param name="MostExaggeration">Heights are drawn at most this many times as tall as lengths; the picture says how many.</param>
/// <param name="Unit">The unit of all figures; both rulers are drawn whatever it is.</param>
public sealed record UnrolledOptions(int WidthPx = 2400, double MostExaggeration = 4, LengthUnit Unit = LengthUnit.Millimetres)
{
    /// <summary>The band with its labels and rulers alone, without strips of words: for a sheet that says them beside it.</summary>
    public bool IsBare { get; init; }
}

using DeflectScan.Findings;
using DeflectScan.Tracing;

namespace DeflectScan.Measuring;

/// <summary>Whether a rod that is said to be at rest can be: what pulls it shows as a cord, or as a bend that no blank has by itself.</summary>
internal static class RestCheck
{
    /// <summary>Degrees that no blank turns by itself and under its own weight (common practice, no source): what is bent farther is loaded.</summary>
    public const double MostTurnDeg = 20;

    /// <param name="tipTurnDeg">Turn of the tip against the traced end.</param>
    /// <param name="cord">The cord at the tip, if one was seen.</param>
    public static IEnumerable<Finding> Of(double tipTurnDeg, CordTrace? cord)
    {
        if (TurnsTooFar(tipTurnDeg) is { } bent)
            yield return bent;
        if (cord is not null)
        {
            yield return Finding.Review(
                FindingCode.BendExcessive,
                "Something like the tie-off cord was seen at the tip, so the rod may be loaded: let it down, take the cord off and take the photo of the rod at rest again.");
        }
    }

    /// <summary>A bend too large for a rod at rest; null where it is none.</summary>
    public static Finding? TurnsTooFar(double tipTurnDeg) => tipTurnDeg <= MostTurnDeg
        ? null
        : Finding.Review(
            FindingCode.BendExcessive,
            $"The tip is turned by {tipTurnDeg:0} degrees, more than a rod at rest is bent by itself: let the rod down and take the photo again, or measure this one as a loaded rod.");
}

using DeflectScan.Findings;

namespace DeflectScan.Mechanics;

/// <summary>Cautions about a bend that is asked for.</summary>
public static class BendLimits
{
    /// <summary>Beyond a square tip a blank is easily broken. Common practice, no source.</summary>
    public const double SquareTipDeg = 90;

    /// <summary>Share by which a load may pass the largest measured one before it counts as beyond it.</summary>
    public const double MeasuredMargin = 0.02;

    /// <summary>What to say to anyone who is about to load a blank. Common practice, no source.</summary>
    public static IReadOnlyList<string> Practice { get; } =
    [
        "Everyone in the room wears eye protection, and nobody stands in the plane of the bend or in line with the cord.",
        "Clamp at least 150 mm (6 in) of the butt between padding; no point load on the blank.",
        "Tie a soft cord of little stretch with a safety tether, keep the load close to the floor, and add it gently.",
        "Keep the tip at 90 degrees or less to the butt and the load well under the blank's rating; stop at any crack.",
    ];

    /// <summary>A note when the tip has turned beyond 90 degrees against the clamp.</summary>
    public static IReadOnlyList<Finding> TipBeyondSquare(Bend bend) => TipBeyondSquare(bend.TipTurnDeg);

    /// <summary>A note when a load passes the largest one that was photographed: the figures then reach beyond what was measured.</summary>
    /// <param name="factor">The load asked for over the reference load.</param>
    /// <param name="largestMeasured">The largest photographed load over the reference load.</param>
    public static IReadOnlyList<Finding> BeyondMeasured(double factor, double largestMeasured) =>
        factor <= largestMeasured * (1 + MeasuredMargin)
            ? []
            : [Finding.Note(
                FindingCode.BendExcessive,
                $"This load is {factor / largestMeasured:0.00} times the largest that was photographed: the bend is computed, not measured, so do not take the blank there to try it.")];

    internal static IReadOnlyList<Finding> TipBeyondSquare(double tipTurnDeg) => tipTurnDeg <= SquareTipDeg
        ? []
        : [Finding.Note(
            FindingCode.BendExcessive,
            $"The tip turns by {tipTurnDeg:0} degrees, more than the 90 at which tips break easily: do not load the blank that far.")];
}

using DeflectScan.Findings;

namespace DeflectScan.Mechanics;

/// <summary>Cautions about a bend that is asked for.</summary>
public static class BendLimits
{
    /// <summary>Beyond a square tip a blank is easily broken. Common practice, no source.</summary>
    public const double SquareTipDeg = 90;

    /// <summary>A note when the tip has turned beyond 90 degrees against the clamp.</summary>
    public static IReadOnlyList<Finding> TipBeyondSquare(Bend bend) => TipBeyondSquare(bend.TipTurnDeg);

    internal static IReadOnlyList<Finding> TipBeyondSquare(double tipTurnDeg) => tipTurnDeg <= SquareTipDeg
        ? []
        : [Finding.Note(
            FindingCode.BendExcessive,
            $"The tip turns by {tipTurnDeg:0} degrees, more than the 90 at which tips break easily: do not load the blank that far.")];
}

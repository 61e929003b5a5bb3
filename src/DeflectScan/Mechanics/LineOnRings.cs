using DeflectScan.Findings;
using DeflectScan.Geometry;

namespace DeflectScan.Mechanics;

/// <summary>Where the line runs over a ring.</summary>
/// <param name="StationMm">Arc length from the tip in mm where the guide stands.</param>
/// <param name="ArmMm">
/// Height in mm of the line's contact above the axis, along the blank's normal (the tip-ward tangent turned by +90 degrees); negative on the other side.
/// </param>
public sealed record RingOnBlank(double StationMm, double ArmMm);

/// <summary>What the line does to one ring.</summary>
/// <param name="Ring">The ring.</param>
/// <param name="PlaceMm">Its contact in the plane, mm.</param>
/// <param name="ForceN">The line's push on it, N.</param>
/// <param name="LineAngleDeg">The angle that the line turns through there.</param>
/// <param name="TensionOutN">Line tension on the tip's side, N.</param>
/// <param name="TensionInN">Line tension on the reel's side, N.</param>
public sealed record RingLoad(RingOnBlank Ring, Vec2 PlaceMm, Vec2 ForceN, double LineAngleDeg, double TensionOutN, double TensionInN);

/// <summary>The bend when the pull comes through the line over the rings.</summary>
/// <param name="Bend">The bend; its tip force is zero, all load comes in at the rings.</param>
/// <param name="Rings">From the tip-top to the first guide.</param>
/// <param name="LineCrossesBlank">
/// True when a straight piece of line between two rings passes to the other side of the axis (rings on the outside of a bend): there it
/// would lie on the blank, which this model leaves out.
/// </param>
public sealed record LineBend(Bend Bend, IReadOnlyList<RingLoad> Rings, bool LineCrossesBlank);

/// <summary>The line that runs through the guides: its way out beyond the tip, and where it goes to at the butt.</summary>
/// <param name="TensionN">Tension beyond the tip-top, N.</param>
/// <param name="DirectionDeg">Where the line leads beyond the tip-top, degrees counter-clockwise from +x.</param>
/// <param name="ReelMm">Where the line comes off the reel, in the plane, mm; it does not move with the bend.</param>
public sealed record LinePull(double TensionN, double DirectionDeg, Vec2 ReelMm)
{
    /// <summary>
    /// Friction of line on ring while line runs out: the tension behind a ring is e^(−μθ) of that before it (capstan equation).
    /// Default 0: a line at rest, as in a static test. Common practice, no source: 0.1 to 0.2 on polished ceramic.
    /// </summary>
    public double Friction { get; init; }
}

/// <summary>
/// A pull through the line instead of the cord: the line is a string over the rings, so every ring gets the two tensions' resultant
/// (2T sin(θ/2) along the bisector without friction), in directions that follow the bend. Newton's method on the directions of the line's
/// pieces: given them, the blank is one under dead forces on arms, and its bend gives the directions back. Section by section the blank carries the outer pull and, against it,
/// the line's tension along its own path: were the line on the axis the bend would be the cord's; each ring's height times the tension is
/// what differs.
/// </summary>
public static class LineOnRings
{
    /// <summary>The bend and ring loads, or a refusal when line and blank do not settle.</summary>
    /// <param name="blank">The free blank.</param>
    /// <param name="clamp">How it is held.</param>
    /// <param name="line">The line.</param>
    /// <param name="rings">At least the tip-top; any order.</param>
    /// <param name="options">As in <see cref="BendSolver"/>.</param>
    public static Outcome<LineBend> Solve(
        BlankModel blank, Clamp clamp, LinePull line, IReadOnlyList<RingOnBlank> rings, BendOptions? options = null)
    {
        if (rings.Count == 0)
            throw new ArgumentException("The line needs a tip-top at least.", nameof(rings));
        options ??= new BendOptions();
        List<RingOnBlank> fromTip = [.. rings.OrderBy(r => r.StationMm)];

        // At once, or where that does not settle, with the tension raised in steps.
        foreach (int steps in (int[])[1, 4, 16])
        {
            double share = 1.0 / steps;
            Bend? cord = BendSolver.Solve(blank, clamp, new FixedDirection(line.TensionN * share, line.DirectionDeg), options).Value;
            if (cord is null)
                continue;
            LineAndBlank both = new(blank, clamp, fromTip, line.ReelMm, options);
            LineState? state = new(cord, both.PieceAngles(cord));
            for (int i = 1; i <= steps && state is not null; i++)
                state = both.Settle(line with { TensionN = line.TensionN * i / steps }, state);
            if (state is null)
                continue;
            List<RingLoad> loads = both.Loads(line, state.PieceAngles, state.Bend);
            return Outcome<LineBend>.Of(new LineBend(state.Bend, loads, Crosses(state.Bend, loads)), BendLimits.TipBeyondSquare(state.Bend));
        }

        return Refused(line);
    }

    private static Outcome<LineBend> Refused(LinePull line) => Outcome<LineBend>.Refused(
        FindingCode.BendExcessive, $"Blank and line do not settle at a line tension of {line.TensionN:0.##} N: ask for a smaller pull.");

    // A piece of line crosses when its middle part lies on the other side of the axis than its ring.
    private static bool Crosses(Bend bend, List<RingLoad> loads)
    {
        for (int i = 0; i + 1 < loads.Count; i++)
        {
            double near = loads[i].Ring.StationMm;
            double side = Math.Sign(loads[i].Ring.ArmMm + loads[i + 1].Ring.ArmMm);
            for (int k = 1; k < 10 && side != 0; k++)
            {
                (near, double offset) = bend.Curve.Nearest(Vec2.Lerp(loads[i].PlaceMm, loads[i + 1].PlaceMm, k / 10.0), near);

                // The curve runs from the tip, so its normal is the opposite one.
                if (-offset * side < 0)
                    return true;
            }
        }

        return false;
    }
}

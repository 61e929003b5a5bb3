using DeflectScan.Geometry;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Mechanics;

/// <summary>A bend with the directions of the line's pieces that it was solved with.</summary>
/// <param name="Bend">The bend.</param>
/// <param name="PieceAngles">Directions in radians from each ring to the next one towards the reel, tip-top first.</param>
internal sealed record LineState(Bend Bend, double[] PieceAngles);

/// <summary>Line and blank in equilibrium: Newton's method on the directions of the line's pieces.</summary>
internal sealed class LineAndBlank(BlankModel blank, Clamp clamp, IReadOnlyList<RingOnBlank> fromTip, Vec2 reelMm, BendOptions options)
{
    private const int MostTurns = 30;
    private const double LongestStepRad = 0.3;
    private const double TrialRad = 1e-5;
    private const double SettledRad = 1e-9;

    private readonly BendGrid _grid = BendGrid.Of(
        blank, clamp.Down, [.. fromTip.Select(r => new ArmForce(r.StationMm, default, r.ArmMm))], options);

    /// <summary>The equilibrium near a state, or null.</summary>
    public LineState? Settle(LinePull line, LineState near)
    {
        double[] angles = near.PieceAngles;
        Bend? bend = BendUnder(line, angles, near.Bend);
        for (int turn = 0; turn < MostTurns && bend is not null; turn++)
        {
            double[] miss = Miss(bend, angles);
            if (miss.Max(Math.Abs) < SettledRad)
                return new LineState(bend, angles);
            if (Step(line, angles, bend, miss) is not { } step)
                return null;
            double share = Math.Min(1, LongestStepRad / step.Max(Math.Abs));
            (angles, bend) = Improved(line, angles, bend, step, share, miss.Max(Math.Abs));
        }

        return null;
    }

    /// <summary>The directions that the line takes on a bend.</summary>
    public double[] PieceAngles(Bend bend)
    {
        Vec2[] places = [.. fromTip.Select(r => Contact(bend, r)), reelMm];
        return [.. Enumerable.Range(0, fromTip.Count).Select(i => Math.Atan2(places[i + 1].Y - places[i].Y, places[i + 1].X - places[i].X))];
    }

    /// <summary>The ring loads of a line whose pieces run in the given directions.</summary>
    public List<RingLoad> Loads(LinePull line, double[] pieceAngles, Bend bend)
    {
        Vec2 outwards = Unit(line.DirectionDeg * Math.PI / 180);
        double tension = line.TensionN;
        List<RingLoad> loads = [];
        for (int i = 0; i < fromTip.Count; i++)
        {
            Vec2 inwards = Unit(pieceAngles[i]);

            // Straight on is an angle of zero: the ways in and out then point opposite.
            double angle = Math.Atan2(Math.Abs(outwards.Cross(inwards)), -outwards.Dot(inwards));
            double behind = tension * Math.Exp(-line.Friction * angle);
            Vec2 force = (outwards * tension) + (inwards * behind);
            loads.Add(new RingLoad(fromTip[i], Contact(bend, fromTip[i]), force, angle * 180 / Math.PI, tension, behind));
            outwards = -inwards;
            tension = behind;
        }

        return loads;
    }

    private static Vec2 Unit(double angle) => new(Math.Cos(angle), Math.Sin(angle));

    private static Vec2 Contact(Bend bend, RingOnBlank ring) =>
        bend.PointAt(ring.StationMm) + (Unit(bend.AngleAt(ring.StationMm)).Perpendicular * ring.ArmMm);

    private double[] Miss(Bend bend, double[] angles) =>
        [.. PieceAngles(bend).Zip(angles, (there, here) => Math.IEEERemainder(there - here, 2 * Math.PI))];

    private Bend? BendUnder(LinePull line, double[] angles, Bend near)
    {
        ArmForce[] arms = [.. Loads(line, angles, near).Select(l => new ArmForce(l.Ring.StationMm, l.ForceN, l.Ring.ArmMm))];
        _grid.SetArms(arms);
        return BendSolver.Solve(_grid, blank, clamp, new FixedDirection(0, line.DirectionDeg), options, arms, near);
    }

    private double[]? Step(LinePull line, double[] angles, Bend bend, double[] miss)
    {
        int n = angles.Length;
        Matrix<double> slope = Matrix<double>.Build.Dense(n, n);
        for (int j = 0; j < n; j++)
        {
            double[] moved = [.. angles];
            moved[j] += TrialRad;
            if (BendUnder(line, moved, bend) is not { } there)
                return null;
            double[] other = Miss(there, moved);
            for (int i = 0; i < n; i++)
                slope[i, j] = (miss[i] - other[i]) / TrialRad;
        }

        double[] step = [.. slope.Solve(Vector<double>.Build.Dense(miss))];
        return step.All(double.IsFinite) ? step : null;
    }

    // Halves the step until the directions agree better.
    private (double[] Angles, Bend? Bend) Improved(LinePull line, double[] angles, Bend bend, double[] step, double share, double miss)
    {
        for (int halving = 0; halving < 8; halving++, share /= 2)
        {
            double[] moved = [.. angles.Zip(step, (a, s) => a + (share * s))];
            if (BendUnder(line, moved, bend) is { } there && Miss(there, moved).Max(Math.Abs) < miss)
                return (moved, there);
        }

        return (angles, null);
    }
}

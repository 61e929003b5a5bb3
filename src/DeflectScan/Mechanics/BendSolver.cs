using DeflectScan.Findings;
using DeflectScan.Geometry;

namespace DeflectScan.Mechanics;

/// <summary>
/// The shape that a clamped blank takes under a pull at its tip, its own weight and forces on its rings: the large-deflection equations
/// without small-angle terms. A coarse least-energy bend gives the start; Newton steps on the tip's angle (and the cord's direction) in a
/// shooting from the tip give the answer. When they do not settle, the load is raised in steps.
/// </summary>
public static class BendSolver
{
    private const double LongestStep = 0.5;

    /// <summary>The bend, or a refusal when no equilibrium was found near the unloaded shape.</summary>
    /// <param name="blank">The free blank.</param>
    /// <param name="clamp">How it is held.</param>
    /// <param name="load">The pull at the tip.</param>
    /// <param name="options">Steps and tolerance; null for the defaults.</param>
    /// <param name="arms">Forces on rings, if any.</param>
    /// <param name="near">A bend of nearly the same blank and load to start from, if any: saves the coarse start.</param>
    public static Outcome<Bend> Solve(
        BlankModel blank, Clamp clamp, EndLoad load, BendOptions? options = null, IReadOnlyList<ArmForce>? arms = null, Bend? near = null)
    {
        options ??= new BendOptions();
        arms ??= [];
        BendGrid grid = BendGrid.Of(blank, clamp.Down, arms, options);
        return Solve(grid, blank, clamp, load, options, arms, near) is { } bend
            ? Outcome<Bend>.Of(bend, BendLimits.TipBeyondSquare(bend))
            : Outcome<Bend>.Refused(
                FindingCode.BendExcessive,
                $"No steady bend was found for a pull of {load.ForceN:0.##} N: ask for a smaller load or check the stiffness and the pull's direction.");
    }

    internal static Bend? Solve(
        BendGrid grid, BlankModel blank, Clamp clamp, EndLoad load, BendOptions options, IReadOnlyList<ArmForce> arms, Bend? near)
    {
        TipShooting shooting = new(grid, clamp.Down);
        if (near is not null && Newton(shooting, grid, clamp, load, options, (near.AnglesRad[0], Heading(near.TipForceN))) is { } warm)
            return warm;
        if (load is FollowingTip)
            return Raise(shooting, grid, clamp, load, options, new CoarseBend(blank, clamp, []).TipAngleRad);
        CoarseBend coarse = new(blank, clamp, arms);
        (double, double) start = Start(coarse, clamp, load);
        return Newton(shooting, grid, clamp, load, options, start)
            ?? Raise(shooting, grid, clamp, load, options, new CoarseBend(blank, clamp, []).TipAngleRad);
    }

    private static (double TipAngle, double ForceAngle) Start(CoarseBend coarse, Clamp clamp, EndLoad load)
    {
        double heading = load is FixedDirection f ? f.DirectionDeg * Math.PI / 180 : 0;
        for (int turn = 0; turn < 12; turn++)
        {
            double before = heading;
            if (load is TowardsAnchor a)
                heading = Heading(a.AnchorMm - clamp.PlaceMm - coarse.TipFromClamp);
            if (turn > 0 && Math.Abs(heading - before) < 1e-3)
                break;
            coarse.Settle(new Vec2(Math.Cos(heading), Math.Sin(heading)) * load.ForceN);
        }

        return (coarse.TipAngleRad, heading);
    }

    // Raises the load from a fiftieth to the whole, each bend the start of the next; halves the rise where Newton does not settle.
    private static Bend? Raise(
        TipShooting shooting, BendGrid grid, Clamp clamp, EndLoad load, BendOptions options, double unloadedTipAngle)
    {
        double done = 0;
        double rise = 0.02;
        double rate = 0;
        Bend? last = null;
        for (int turn = 0; turn < 200 && done < 1; turn++)
        {
            double share = Math.Min(1, done + rise);
            double tip = (last?.AnglesRad[0] ?? unloadedTipAngle) + (rate * (share - done));
            double heading = last is null ? Heading(load, clamp, grid, tip) : Heading(last.TipForceN);
            Bend? next = Newton(shooting, grid, clamp, load.Times(share), options, (tip, heading));
            if (next is null || (last is not null && Math.Abs(next.AnglesRad[0] - last.AnglesRad[0]) > LongestStep))
            {
                rise /= 2;
                if (rise < 1e-5)
                    return null;
                continue;
            }

            rate = (next.AnglesRad[0] - (last?.AnglesRad[0] ?? unloadedTipAngle)) / (share - done);
            (last, done, rise) = (next, share, rise * 1.6);
        }

        return done < 1 ? null : last;
    }

    private static Bend? Newton(
        TipShooting shooting, BendGrid grid, Clamp clamp, EndLoad load, BendOptions options, (double Tip, double Force) start)
    {
        (double tip, double heading) = start;
        double[] trace = new double[4 * grid.Stations.Length];
        for (int turn = 0; turn < 30; turn++)
        {
            if (load is FixedDirection d)
                heading = d.DirectionDeg * Math.PI / 180;
            else if (load is FollowingTip f)
                heading = tip + (f.FromTangentDeg * Math.PI / 180);
            ClampEnd end = shooting.Run(tip, load.ForceN, heading, trace);
            double miss = end.AngleRad - clamp.AngleRad;
            (double tipStep, double headingStep) = load switch
            {
                TowardsAnchor a => TowardsAnchorStep(end, clamp, a.AnchorMm, heading, miss),
                FollowingTip => (-miss / (end.AngleByTip + end.AngleByForce), 0),
                _ => (-miss / end.AngleByTip, 0),
            };
            if (!double.IsFinite(tipStep) || !double.IsFinite(headingStep))
                return null;

            // The miss at the clamp may stay above the tolerance by rounding where the tip's angle no longer changes it.
            if (Math.Max(Math.Abs(tipStep), Math.Abs(headingStep)) < options.ToleranceRad && Math.Abs(miss) < 1e-6)
                return Result(grid, clamp, load, heading, end, trace);
            double share = Math.Min(1, LongestStep / Math.Max(Math.Abs(tipStep), Math.Abs(headingStep)));
            tip += share * tipStep;
            heading += share * headingStep;
        }

        return null;
    }

    // Both conditions at once: the clamp's angle, and the pull along the line from tip to anchor.
    private static (double Tip, double Heading) TowardsAnchorStep(ClampEnd end, Clamp clamp, Vec2 anchor, double heading, double angleMiss)
    {
        Vec2 cord = anchor - (clamp.PlaceMm - end.FromTip);
        double far = cord.Length;
        Vec2 f = new(Math.Cos(heading), Math.Sin(heading));
        double miss = Math.Asin(Math.Clamp(cord.Cross(f) / far, -1, 1));
        if (cord.Dot(f) < 0)
            miss = Math.CopySign(Math.PI, miss) - miss;
        double byTip = end.PlaceByTip.Cross(f) / far;
        double byForce = 1 + (end.PlaceByForce.Cross(f) / far);
        double determinant = (end.AngleByTip * byForce) - (end.AngleByForce * byTip);
        return (((-angleMiss * byForce) + (end.AngleByForce * miss)) / determinant,
            ((-end.AngleByTip * miss) + (byTip * angleMiss)) / determinant);
    }

    private static Bend Result(BendGrid grid, Clamp clamp, EndLoad load, double heading, ClampEnd end, double[] trace)
    {
        int n = grid.Stations.Length;
        Vec2 tip = clamp.PlaceMm - end.FromTip;
        Vec2[] points = new Vec2[n];
        double[] angles = new double[n];
        double[] moments = new double[n];
        double[] curvatures = new double[n];
        for (int i = 0; i < n; i++)
        {
            int row = i < n - 1 ? 3 * i : (3 * (i - 1)) + 2;
            angles[i] = trace[4 * i];
            moments[i] = trace[(4 * i) + 1];
            points[i] = tip + new Vec2(trace[(4 * i) + 2], trace[(4 * i) + 3]);
            curvatures[i] = grid.Natural[row] + (moments[i] * grid.Flexibility[row]);
        }

        return new Bend(grid.Stations, points, angles, moments, curvatures, new Vec2(Math.Cos(heading), Math.Sin(heading)) * load.ForceN);
    }

    private static double Heading(EndLoad load, Clamp clamp, BendGrid grid, double tip) => load switch
    {
        FixedDirection d => d.DirectionDeg * Math.PI / 180,
        FollowingTip f => tip + (f.FromTangentDeg * Math.PI / 180),
        TowardsAnchor a => Heading(
            a.AnchorMm - clamp.PlaceMm - (new Vec2(Math.Cos(clamp.AngleRad), Math.Sin(clamp.AngleRad)) * grid.LengthMm)),
        _ => throw new ArgumentOutOfRangeException(nameof(load)),
    };

    private static double Heading(Vec2 v) => Math.Atan2(v.Y, v.X);
}

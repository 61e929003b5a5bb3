using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>
/// The taut line: the shortest path from the reel through every ring, pulled straight down behind the last one. The length is a convex
/// function of the places in the rings, so going through the rings in turn (each has a closed-form best place) finds the one minimum.
/// Where the straight piece between two rings would cut the blank it lies on it: the hull of both rings and the blank's surface.
/// </summary>
public static class TautLine
{
    /// <summary>Place of the line in each ring, -1 near rim to 1 far rim.</summary>
    public static double[] Places(Vec2 reel, IReadOnlyList<RingGate> gates)
    {
        double[] t = new double[gates.Count];
        for (int sweep = 0; sweep < 20000; sweep++)
        {
            double change = 0;
            for (int i = 0; i < t.Length; i++)
            {
                Vec2 before = i == 0 ? reel : gates[i - 1].At(t[i - 1]);
                double best = i == t.Length - 1 ? BestAtTip(before, gates[i]) : Best(before, gates[i], gates[i + 1].At(t[i + 1]));
                change = Math.Max(change, Math.Abs(best - t[i]));
                t[i] = best;
            }

            if (change < 1e-13)
                break;
        }

        return t;
    }

    /// <summary>The line's points from a to b where the blank may be in the way; just a and b where it is not.</summary>
    public static IReadOnlyList<Vec2> OverBlank(BentBlank blank, RingGate a, Vec2 fromMm, RingGate b, Vec2 toMm)
    {
        Vec2 along = (toMm - fromMm).Normalized();
        Vec2 up = along.Perpendicular;
        if (up.Dot(a.Away) < 0)
            up = -up;
        List<Vec2> hull = [fromMm];
        for (double s = Math.Ceiling(a.StationMm) + 1; s < b.StationMm; s++)
            Push(blank.Point(s) + (a.AwaySideOf(blank, s) * (blank.Taper.RadiusMm(s) + a.LineRadiusMm)));
        Push(toMm);
        return hull;

        void Push(Vec2 p)
        {
            while (hull.Count > 1 && Height(hull[^1], hull[^2], p) <= 0)
                hull.RemoveAt(hull.Count - 1);
            if (hull.Count > 0 && along.Dot(p - hull[^1]) > 0)
                hull.Add(p);
        }

        double Height(Vec2 middle, Vec2 left, Vec2 right)
        {
            Vec2 chord = (right - left).Normalized();
            Vec2 normal = chord.Perpendicular.Dot(up) > 0 ? chord.Perpendicular : -chord.Perpendicular;
            return normal.Dot(middle - left);
        }
    }

    private static Vec2 AwaySideOf(this RingGate gate, BentBlank blank, double s) =>
        blank.Outward(s) * Math.Sign(gate.Away.Dot(blank.Outward(gate.StationMm)));

    private static double Best(Vec2 before, RingGate gate, Vec2 after)
    {
        // Reflection: on the gate's straight line the shortest way divides the distance between the feet as the two heights do.
        Vec2 across = gate.Disc.Perpendicular;
        double h0 = Math.Abs(across.Dot(before - gate.Middle));
        double h1 = Math.Abs(across.Dot(after - gate.Middle));
        double f0 = gate.Disc.Dot(before - gate.Middle);
        double f1 = gate.Disc.Dot(after - gate.Middle);
        double f = f0 + ((f1 - f0) * h0 / (h0 + h1));
        return Math.Clamp(f / gate.PlayMm, -1, 1);
    }

    private static double BestAtTip(Vec2 before, RingGate gate)
    {
        // The way on is straight down: minimise |P - before| + P.y along the gate (convex; golden section would do, ternary is plain).
        double low = -1;
        double high = 1;
        for (int i = 0; i < 200; i++)
        {
            double a = low + ((high - low) / 3);
            double b = high - ((high - low) / 3);
            if (Cost(a) < Cost(b))
                high = b;
            else
                low = a;
        }

        return (low + high) / 2;

        double Cost(double t) => gate.At(t).DistanceTo(before) + gate.At(t).Y;
    }
}

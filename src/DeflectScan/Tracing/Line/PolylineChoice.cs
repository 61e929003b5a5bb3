using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// Chooses how many corners the line has: starts from the straight runs and takes out corners, or makes one of two, as long as the
/// points do not resist. A taut line always turns to the same side; a corner that turns the other way goes first.
/// </summary>
internal sealed class PolylineChoice(IReadOnlyList<PathPoint> points, double turnSign, double cornerCost, BlankClearance clearance)
{
    private const double WrongTurnCost = 40;

    /// <summary>No two guides stand nearer than this, mm (common practice, no source); what frames and wraps do to the picture does.</summary>
    private const double ClosestMm = 34;
    private const double TooCloseCost = 60;

    /// <param name="corners">Corners to start from; each may be taken out, and two may become one.</param>
    public List<Vec2> Choose(IReadOnlyList<Vec2> corners) => Choose(corners, null, null).Line;

    /// <param name="corners">Corners to start from.</param>
    /// <param name="mayGo">Which corners may be taken out; null: all, and two may become one.</param>
    /// <param name="holds">What is known of each corner; null: nothing of any.</param>
    /// <returns>The line, and which corners were kept.</returns>
    public (List<Vec2> Line, List<int> Kept) Choose(IReadOnlyList<Vec2> corners, IReadOnlyList<bool>? mayGo, IReadOnlyList<VertexHold?>? holds)
    {
        List<bool>? open = mayGo is null ? null : [.. mayGo];
        List<int> kept = [.. Enumerable.Range(0, corners.Count)];
        List<VertexHold?> held = holds is null ? [] : [.. holds];
        List<Vec2> best = Fit(corners, held);
        double cost = Cost(best);
        while (best.Count > 2)
        {
            List<Vec2>? better = null;
            int gone = 0;
            for (int i = 1; i < best.Count - 1; i++)
            {
                if (open is not null && !open[i])
                    continue;
                foreach (List<Vec2> trial in Without(best, i).Take(open is null ? 2 : 1))
                {
                    List<Vec2> fitted = Fit(trial, held.Count == 0 ? held : [.. held.Take(i), .. held.Skip(i + 1)]);
                    double c = Cost(fitted, cost);
                    if (c < cost)
                        (better, cost, gone) = (fitted, c, i);
                }
            }

            if (better is null)
                break;
            best = better;
            open?.RemoveAt(gone);
            kept.RemoveAt(gone);
            if (held.Count > 0)
                held.RemoveAt(gone);
        }

        return (best, kept);
    }

    /// <summary>Cost of a polyline; once it is above <paramref name="enough"/> the dearer parts are left out.</summary>
    public double Cost(IReadOnlyList<Vec2> vertices, double enough = double.MaxValue)
    {
        double cost = PolylineFit.Cost(Sights(vertices)) + (cornerCost * (vertices.Count - 2));
        for (int i = 1; i < vertices.Count - 1; i++)
        {
            double turn = turnSign * (vertices[i] - vertices[i - 1]).Normalized().Cross((vertices[i + 1] - vertices[i]).Normalized());
            if (turn < 0.002)
                cost += WrongTurnCost;
            if (i > 1 && vertices[i].DistanceTo(vertices[i - 1]) < ClosestMm)
                cost += TooCloseCost;
        }

        return cost >= enough ? cost : cost + clearance.Cost(vertices);
    }

    private static IEnumerable<List<Vec2>> Without(List<Vec2> vertices, int i)
    {
        yield return [.. vertices.Take(i), .. vertices.Skip(i + 1)];
        if (i + 1 >= vertices.Count - 1)
            yield break;
        Vec2 merged = Meet(vertices[i - 1], vertices[i], vertices[i + 1], vertices[i + 2]) ?? Vec2.Lerp(vertices[i], vertices[i + 1], 0.5);
        yield return [.. vertices.Take(i), merged, .. vertices.Skip(i + 2)];
    }

    private static Vec2? Meet(Vec2 a, Vec2 b, Vec2 c, Vec2 d)
    {
        Vec2 r = b - a;
        Vec2 s = d - c;
        double cross = r.Cross(s);
        if (Math.Abs(cross) < 1e-3 * r.Length * s.Length)
            return null;
        Vec2 at = a + (r * ((c - a).Cross(s) / cross));
        return at.DistanceTo(Vec2.Lerp(b, c, 0.5)) < b.DistanceTo(c) + 5 ? at : null;
    }

    /// <summary>Where successive runs meet, with the path's two ends.</summary>
    public static List<Vec2> Corners(IReadOnlyList<StraightRun> runs, IReadOnlyList<PathPoint> points)
    {
        List<Vec2> corners = [runs[0].Project(points[0].PlaneMm)];
        for (int i = 0; i + 1 < runs.Count; i++)
        {
            Vec2 between = Vec2.Lerp(points[runs[i].Last].PlaneMm, points[runs[i + 1].First].PlaneMm, 0.5);
            Vec2 a = runs[i].Project(between);
            Vec2 b = runs[i + 1].Project(between);
            Vec2? meet = Meet(a - runs[i].Direction, a, b, b + runs[i + 1].Direction);
            corners.Add(meet is { } m && m.DistanceTo(between) < 25 ? m : Vec2.Lerp(a, b, 0.5));
        }

        corners.Add(runs[^1].Project(points[^1].PlaneMm));
        return corners;
    }

    private List<Vec2> Fit(IReadOnlyList<Vec2> vertices, List<VertexHold?> held)
    {
        IReadOnlyList<Vec2> now = vertices;
        for (int pass = 0; pass < 3; pass++)
            now = PolylineFit.Step(now, Sights(now), held.Count == 0 ? [] : held.Pulls(now), dampingMm: 6).Vertices;
        return [.. now];
    }

    private List<OffsetSight> Sights(IReadOnlyList<Vec2> vertices)
    {
        List<OffsetSight> sights = [];
        int segment = 0;
        foreach (PathPoint p in points)
        {
            while (segment < vertices.Count - 2 && Beyond(vertices, segment, p.PlaneMm))
                segment++;
            if (p.SdMm >= double.MaxValue)
                continue;
            Vec2 a = vertices[segment];
            Vec2 along = vertices[segment + 1] - a;
            double length = along.Length;
            double t = along.Dot(p.PlaneMm - a) / (length * length);
            double offset = along.Cross(p.PlaneMm - a) / length;
            if (NearCorner(vertices, segment, t, length))
                continue;
            sights.Add(new OffsetSight(segment, Math.Clamp(t, 0, 1), offset, p.SdMm));
        }

        return sights;
    }

    private static bool NearCorner(IReadOnlyList<Vec2> vertices, int segment, double t, double length)
    {
        double skip = Math.Min(LineFit.CornerSkipMm, length / 6);
        return (segment > 0 && t * length < skip) || (segment < vertices.Count - 2 && (1 - t) * length < skip);
    }

    /// <summary>Whether a point lies on the far side of the corner's bisector.</summary>
    private static bool Beyond(IReadOnlyList<Vec2> vertices, int segment, Vec2 p)
    {
        Vec2 corner = vertices[segment + 1];
        Vec2 forward = (corner - vertices[segment]).Normalized() + (vertices[segment + 2] - corner).Normalized();
        return forward.Dot(p - corner) > 0;
    }
}

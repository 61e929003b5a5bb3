using DeflectScan.Geometry;

namespace DeflectScan.Layout.OnRings;

/// <summary>A corner of the taut line: a ring, or a place where it lies on the blank.</summary>
/// <param name="PointMm">Rod-plane mm.</param>
/// <param name="Ring">Index of the ring, or null on the blank.</param>
/// <param name="StationMm">Nearest axis point, from the tip.</param>
public readonly record struct LineVertex(Vec2 PointMm, int? Ring, double StationMm);

/// <summary>Where the line lies on the blank between two rings.</summary>
/// <param name="FromRing">Index of the ring nearer to the reel.</param>
/// <param name="StartMm">Station where it comes to lie on the blank, nearer to the reel.</param>
/// <param name="EndMm">Station where it leaves the blank.</param>
/// <param name="WrapDeg">The angle that it turns through there.</param>
public sealed record BlankContact(int FromRing, double StartMm, double EndMm, double WrapDeg);

/// <summary>
/// The taut line through the rings: straight between two rings, or, where the blank is in the way (outside the bend), the shortest path
/// over it. Over a fixed obstacle that is the convex hull of both rings and the blank's edge between them, on the guides' side. In the rod plane:
/// the line is taken not to slip off sideways.
/// </summary>
/// <param name="Vertices">From the reel to the tip-top.</param>
/// <param name="Contacts">Where it lies on the blank.</param>
public sealed record LinePath(IReadOnlyList<LineVertex> Vertices, IReadOnlyList<BlankContact> Contacts)
{
    /// <summary>The line's path.</summary>
    /// <param name="shape">The blank.</param>
    /// <param name="rings">From the reel to the tip-top.</param>
    /// <param name="side">Side of the bend that the guides stand on.</param>
    /// <param name="lineRadiusMm">Half the line's diameter; the path is the line's centre.</param>
    public static LinePath Taut(BlankShape shape, IReadOnlyList<RingPoint> rings, GuideSide side, double lineRadiusMm = 0)
    {
        List<LineVertex> vertices = [new(rings[0].PointMm, 0, rings[0].StationMm)];
        List<BlankContact> contacts = [];
        for (int i = 0; i + 1 < rings.Count; i++)
        {
            List<LineVertex> over = Over(shape, rings[i], rings[i + 1], shape.SignOf(side), lineRadiusMm);
            LineVertex end = new(rings[i + 1].PointMm, i + 1, rings[i + 1].StationMm);
            if (over.Count > 0)
                contacts.Add(new BlankContact(i, over[0].StationMm, over[^1].StationMm, Turn([vertices[^1], .. over, end])));
            vertices.AddRange(over);
            vertices.Add(end);
        }

        return new LinePath(vertices, contacts);
    }

    /// <summary>The vertices on the blank between two rings, from the reel's one; none where the straight line is free.</summary>
    private static List<LineVertex> Over(BlankShape shape, RingPoint a, RingPoint b, int sideSign, double lineRadiusMm)
    {
        Vec2 start = a.PointMm;
        Vec2 along = (b.PointMm - start).Normalized();

        // Away from the blank: across the line, towards the side of the axis that the guides stand on.
        double middle = (a.StationMm + b.StationMm) / 2;
        Vec2 away = along.Perpendicular * Math.Sign(along.Perpendicular.Dot(shape.At(middle).Tangent.Perpendicular) * sideSign);
        (int first, int last) = shape.Between(Math.Min(a.StationMm, b.StationMm), Math.Max(a.StationMm, b.StationMm));
        List<LineVertex> hull = [new(start, null, a.StationMm)];
        for (int i = last; i >= first; i--)
        {
            ShapeSample q = shape.Samples[i];
            Vec2 edge = q.Point + (q.Tangent.Perpendicular * (sideSign * (q.RadiusMm + lineRadiusMm)));
            if (away.Dot(edge - start) > 0)
                Push(hull, new(edge, null, q.S), away, along);
        }

        Push(hull, new(b.PointMm, null, b.StationMm), away, along);
        return hull.GetRange(1, hull.Count - 2);
    }

    /// <summary>Monotone chain: drops what lies under the straight line from its neighbours to the new point.</summary>
    private static void Push(List<LineVertex> hull, LineVertex next, Vec2 away, Vec2 along)
    {
        while (hull.Count > 1)
        {
            Vec2 a = hull[^2].PointMm;
            Vec2 b = hull[^1].PointMm;
            double rise = away.Dot(b - a) * along.Dot(next.PointMm - a);
            if (rise > away.Dot(next.PointMm - a) * along.Dot(b - a))
                break;
            hull.RemoveAt(hull.Count - 1);
        }

        if (along.Dot(next.PointMm - hull[^1].PointMm) > 0)
            hull.Add(next);
    }

    private static double Turn(IReadOnlyList<LineVertex> path)
    {
        double turn = 0;
        for (int i = 1; i + 1 < path.Count; i++)
        {
            Vec2 into = path[i].PointMm - path[i - 1].PointMm;
            Vec2 onward = path[i + 1].PointMm - path[i].PointMm;
            turn += Math.Abs(into.TurnTo(onward));
        }

        return turn * 180 / Math.PI;
    }
}

using DeflectScan.Geometry;

namespace DeflectScan.Records.Comparing;

/// <summary>
/// Two bends laid on each other: turned and shifted (and mirrored, where the rod points the other way) so that points of the same station lie as
/// near as they can (least squares: Arun, Huang and Blostein 1987, in the plane).
/// </summary>
/// <param name="CommonMm">Length from the tip that both cover.</param>
/// <param name="TurnBeforeDeg">Turn of the blank over that length, before.</param>
/// <param name="TurnAfterDeg">The same, after.</param>
/// <param name="RmsMm">Root mean square distance of points of the same station.</param>
/// <param name="LargestMm">Largest such distance.</param>
/// <param name="AfterOnBefore">Where a point of the later rod plane lies in the earlier one, mm.</param>
public sealed record ShapeChange(
    double CommonMm, double TurnBeforeDeg, double TurnAfterDeg, double RmsMm, double LargestMm, Func<Vec2, Vec2> AfterOnBefore)
{
    private const int Points = 200;

    public static ShapeChange Of(BlankReport before, BlankReport after)
    {
        (ArcCurve a, ArcCurve b) = (Curve(before), Curve(after));
        double common = Math.Min(a.Length, b.Length);
        Vec2[] pa = [.. Enumerable.Range(0, Points + 1).Select(i => a.Point(common * i / Points))];
        Vec2[] pb = [.. Enumerable.Range(0, Points + 1).Select(i => b.Point(common * i / Points))];
        Func<Vec2, Vec2> plain = Lay(pb, pa);
        Vec2[] flipped = [.. pb.Select(p => new Vec2(-p.X, p.Y))];
        Func<Vec2, Vec2> onFlipped = Lay(flipped, pa);
        Func<Vec2, Vec2> place = Sum(pb, pa, plain) <= Sum(flipped, pa, onFlipped) ? plain : p => onFlipped(new Vec2(-p.X, p.Y));
        double[] distances = [.. pa.Zip(pb, (x, y) => x.DistanceTo(place(y)))];
        return new ShapeChange(common, Turn(a, common), Turn(b, common), Math.Sqrt(distances.Average(d => d * d)), distances.Max(), place);
    }

    /// <summary>The axis of a measurement as a curve from the tip.</summary>
    internal static ArcCurve Curve(BlankReport blank) => ArcCurve.Through([.. blank.Axis.Select(s => s.Mm)]);

    private static double Turn(ArcCurve curve, double length)
    {
        double turn = 0;
        for (int i = 1; i <= Points; i++)
        {
            (Vec2 from, Vec2 to) = (curve.Tangent(length * (i - 1) / Points), curve.Tangent(length * i / Points));
            turn += from.TurnTo(to);
        }

        return Math.Abs(turn) * 180 / Math.PI;
    }

    private static Func<Vec2, Vec2> Lay(Vec2[] points, Vec2[] on)
    {
        Vec2 from = points.Aggregate((a, b) => a + b) / points.Length;
        Vec2 to = on.Aggregate((a, b) => a + b) / on.Length;
        double sine = points.Zip(on, (p, q) => (p - from).Cross(q - to)).Sum();
        double cosine = points.Zip(on, (p, q) => (p - from).Dot(q - to)).Sum();
        double angle = Math.Atan2(sine, cosine);
        (double s, double c) = Math.SinCos(angle);
        return p => to + new Vec2((c * (p.X - from.X)) - (s * (p.Y - from.Y)), (s * (p.X - from.X)) + (c * (p.Y - from.Y)));
    }

    private static double Sum(Vec2[] points, Vec2[] on, Func<Vec2, Vec2> place) => points.Zip(on, (p, q) => (place(p) - q).LengthSquared).Sum();
}

namespace DeflectScan.Geometry;

/// <summary>A turn about the origin, then a shift.</summary>
/// <param name="AngleRad">Counter-clockwise.</param>
/// <param name="Shift">Added after the turn.</param>
public readonly record struct RigidMotion(double AngleRad, Vec2 Shift)
{
    public Vec2 Apply(Vec2 p) => Turn(p) + Shift;

    /// <summary>A direction: turned only.</summary>
    public Vec2 Turn(Vec2 direction)
    {
        (double sin, double cos) = Math.SinCos(AngleRad);
        return new Vec2((cos * direction.X) - (sin * direction.Y), (sin * direction.X) + (cos * direction.Y));
    }

    /// <summary>The motion that lays points on their partners with the least sum of squared distances (plane Procrustes without scale).</summary>
    /// <param name="from">At least two points.</param>
    /// <param name="to">As many partners.</param>
    public static RigidMotion Fit(IReadOnlyList<Vec2> from, IReadOnlyList<Vec2> to)
    {
        if (from.Count != to.Count || from.Count < 2)
            throw new ArgumentException("A motion needs two points at least, each with a partner.", nameof(to));
        Vec2 a = Mean(from);
        Vec2 b = Mean(to);
        double dot = 0;
        double cross = 0;
        for (int i = 0; i < from.Count; i++)
        {
            dot += (from[i] - a).Dot(to[i] - b);
            cross += (from[i] - a).Cross(to[i] - b);
        }

        RigidMotion turn = new(Math.Atan2(cross, dot), default);
        return turn with { Shift = b - turn.Turn(a) };
    }

    private static Vec2 Mean(IReadOnlyList<Vec2> points)
    {
        Vec2 sum = default;
        foreach (Vec2 p in points)
            sum += p;
        return sum / points.Count;
    }
}

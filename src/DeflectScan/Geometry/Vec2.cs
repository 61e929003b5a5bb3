namespace DeflectScan.Geometry;

/// <summary>A point or a direction in a plane. The variable's name says the frame and unit (tipInPlaneMm, ringPx).</summary>
/// <param name="X">First coordinate: right.</param>
/// <param name="Y">Second coordinate: down in a photo (px), up in the rod plane (mm).</param>
public readonly record struct Vec2(double X, double Y)
{
    public double Length => Math.Sqrt((X * X) + (Y * Y));

    public double LengthSquared => (X * X) + (Y * Y);

    /// <summary>Turned by +90 degrees from x towards y: the left-hand normal where y points up.</summary>
    public Vec2 Perpendicular => new(-Y, X);

    /// <summary>The unit vector along this one; (0, 0) stays (0, 0).</summary>
    public Vec2 Normalized() => Length is var l and > 0 ? new(X / l, Y / l) : this;

    public double Dot(Vec2 other) => (X * other.X) + (Y * other.Y);

    /// <summary>z of the cross product: positive where <paramref name="other"/> lies on the side of +90 degrees.</summary>
    public double Cross(Vec2 other) => (X * other.Y) - (Y * other.X);

    /// <summary>The angle from this direction to another one, radians, counter-clockwise positive where y points up.</summary>
    public double TurnTo(Vec2 other) => Math.Atan2(Cross(other), Dot(other));

    public double DistanceTo(Vec2 other) => (this - other).Length;

    public static Vec2 Lerp(Vec2 a, Vec2 b, double t) => a + ((b - a) * t);

    public override string ToString() => $"({X:0.###}, {Y:0.###})";

    public static Vec2 operator +(Vec2 a, Vec2 b) => new(a.X + b.X, a.Y + b.Y);

    public static Vec2 operator -(Vec2 a, Vec2 b) => new(a.X - b.X, a.Y - b.Y);

    public static Vec2 operator -(Vec2 a) => new(-a.X, -a.Y);

    public static Vec2 operator *(Vec2 a, double k) => new(a.X * k, a.Y * k);

    public static Vec2 operator /(Vec2 a, double k) => new(a.X / k, a.Y / k);
}

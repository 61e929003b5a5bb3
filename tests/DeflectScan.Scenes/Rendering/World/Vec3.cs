using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>A point or direction in the world of a rendered scene: mm, x right, y up, z towards the camera; the rod lies in z = 0.</summary>
public readonly record struct Vec3(double X, double Y, double Z)
{
    public double Length => Math.Sqrt(Dot(this));

    public Vec2 Flat => new(X, Y);

    public static Vec3 InPlane(Vec2 mm, double z = 0) => new(mm.X, mm.Y, z);

    public double Dot(Vec3 o) => (X * o.X) + (Y * o.Y) + (Z * o.Z);

    public Vec3 Cross(Vec3 o) => new((Y * o.Z) - (Z * o.Y), (Z * o.X) - (X * o.Z), (X * o.Y) - (Y * o.X));

    public Vec3 Normalized() => this * (1 / Length);

    public static Vec3 operator +(Vec3 a, Vec3 b) => new(a.X + b.X, a.Y + b.Y, a.Z + b.Z);

    public static Vec3 operator -(Vec3 a, Vec3 b) => new(a.X - b.X, a.Y - b.Y, a.Z - b.Z);

    public static Vec3 operator *(Vec3 a, double k) => new(a.X * k, a.Y * k, a.Z * k);
}

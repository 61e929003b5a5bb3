using System.Numerics;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Lamps and the light from all around. A matt white surface facing the camera in the middle of the scene gets about 1.</summary>
public sealed class Lighting
{
    private const double Reference = 2400;

    public Lighting(SceneOptions o)
    {
        Random r = new(unchecked((o.Seed * 6151) + 11));
        double side = r.NextDouble() < 0.5 ? -1 : 1;
        Vec3 first = new(side * (500 + (900 * r.NextDouble())), 1500 + (500 * r.NextDouble()), 1500 + (900 * r.NextDouble()));
        Vec3 second = new(-side * (600 + (900 * r.NextDouble())), 1300 + (700 * r.NextDouble()), 1800 + (700 * r.NextDouble()));
        Lamps = o.Light == LightKind.Two ? [first, second] : [first];
        LampShare = o.Light switch { LightKind.Soft => 0.45, LightKind.Hard => 0.62, _ => 0.3 };
        LampRadiusMm = o.Light switch { LightKind.Soft => 220, LightKind.Hard => 9, _ => 60 };
        Ambient = o.Light == LightKind.Hard ? 0.4 : 0.52;
        Spread = o.Light switch { LightKind.Soft => 0.25, LightKind.Hard => 1, _ => 0.5 };
    }

    public IReadOnlyList<Vec3> Lamps { get; }

    /// <summary>What one lamp gives.</summary>
    public double LampShare { get; }

    public double LampRadiusMm { get; }

    public double Ambient { get; }

    /// <summary>Factor on a highlight's exponent: a large lamp makes it broad.</summary>
    public double Spread { get; }

    public double Irradiance(Vec3 at, Vec3 normal)
    {
        double sum = Ambient * (0.8 + (0.2 * normal.Y));
        foreach (Vec3 lamp in Lamps)
            sum += OfLamp(lamp, at, normal);
        return sum;
    }

    public double OfLamp(Vec3 lamp, Vec3 at, Vec3 normal)
    {
        Vec3 d = lamp - at;
        double distance = d.Length;
        return LampShare * 1.35 * Math.Max(0, normal.Dot(d) / distance) * Reference * Reference / (distance * distance);
    }

    /// <summary>Colour of a surface that faces <paramref name="normal"/>, seen along <paramref name="toEye"/>.</summary>
    public Vector3 Shade(Material m, Vec3 at, Vec3 normal, Vec3 toEye)
    {
        Vector3 colour = m.Albedo * (float)Irradiance(at, normal);
        if (m.Gloss <= 0)
            return colour;
        double gloss = 0;
        foreach (Vec3 lamp in Lamps)
        {
            Vec3 half = ((lamp - at).Normalized() + toEye).Normalized();
            gloss += Math.Pow(Math.Max(0, normal.Dot(half)), m.Shine * Spread) * LampShare;
        }

        // The bright upper half of the room mirrors faintly in a clear coat (Fresnel, grazing angles more).
        double facing = Math.Clamp(normal.Dot(toEye), 0, 1);
        double fresnel = 0.04 + (0.5 * Math.Pow(1 - facing, 5));
        double sky = fresnel * Math.Max(0, 0.5 + normal.Y) * 0.6;
        return colour + (Vector3.One * (float)(m.Gloss * ((1.1 * gloss) + sky)));
    }
}

/// <summary>How a surface looks.</summary>
/// <param name="Albedo">Linear RGB.</param>
/// <param name="Gloss">Strength of the highlight.</param>
/// <param name="Shine">Phong exponent of the highlight: 20 broad to 200 sharp.</param>
/// <param name="Opacity">1 opaque.</param>
public sealed record Material(Vector3 Albedo, double Gloss = 0, double Shine = 60, double Opacity = 1)
{
    /// <summary>Brightness factor along a bar, mm from its start: cork's specks, a twisted cord.</summary>
    public Func<double, double>? Along { get; init; }
}

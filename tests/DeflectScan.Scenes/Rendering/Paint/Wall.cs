using System.Numerics;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>The wall behind the rod.</summary>
public static class Wall
{
    private static readonly Vec3 Facing = new(0, 0, 1);

    public static Panel Of(SceneOptions o, SceneCamera camera, Lighting light)
    {
        NoiseField fine = new(o.Seed + 1, 3);
        NoiseField coarse = new(o.Seed + 2, 6);
        Func<double, double, double, float> texture = Texture(o.Wall, fine, coarse);
        Vec3 origin = new(-9000, 7000, -o.WallMm);
        return new Panel(camera, origin, new Vec3(1, 0, 0), new Vec3(0, -1, 0), 18000, 14000, Colour);

        Vector3 Colour(double a, double b, double px)
        {
            double lit = light.Irradiance(new Vec3(origin.X + a, origin.Y - b, origin.Z), Facing);
            return o.WallColour * (float)(lit * texture(a, b, px));
        }
    }

    private static Func<double, double, double, float> Texture(WallKind kind, NoiseField fine, NoiseField coarse) => kind switch
    {
        WallKind.Paint => (a, b, px) => 1 + (0.03f * coarse.At(a * 0.12, b * 0.12)) + (0.02f * Fade(px, 3) * fine.At(a * 4, b * 4)),
        WallKind.Plaster => (a, b, px) => 1 + (0.10f * coarse.At(a * 0.18, b * 0.18)) + (0.05f * Fade(px, 3) * fine.At(a * 6, b * 6)),
        WallKind.Concrete => (a, b, px) => 1 + (0.16f * coarse.At(a * 0.1, b * 0.1)) + (0.06f * fine.At(a * 1.7, b * 1.7)) - Pores(a, b, px, fine),
        WallKind.Pegboard => (a, b, px) => (1 + (0.05f * coarse.At(a * 0.3, b * 0.3))) * Pegs(a, b, px),
        WallKind.Brick => (a, b, px) => Bricks(a, b, px, coarse) * (1 + (0.10f * fine.At(a * 2.5, b * 2.5))),
        WallKind.Planks => (a, b, px) => Planks(a, b, px, fine, coarse),
        _ => throw new ArgumentOutOfRangeException(nameof(kind)),
    };

    private static float Fade(double px, double mm) => (float)Math.Clamp(mm / px, 0, 1);

    private static float Pores(double a, double b, double px, NoiseField fine)
    {
        float v = fine.At((a * 8) + 100, (b * 8) + 31) - 1.05f;
        return v > 0 ? 0.5f * v * Fade(px, 1.5) : 0;
    }

    private static float Pegs(double a, double b, double px)
    {
        const double pitch = 25.4;
        double x = a - (Math.Round(a / pitch) * pitch);
        double y = b - (Math.Round(b / pitch) * pitch);
        double inside = 3.1 - Math.Sqrt((x * x) + (y * y));
        return 1 - (0.85f * (float)Math.Clamp((inside / px) + 0.5, 0, 1));
    }

    private static float Bricks(double a, double b, double px, NoiseField coarse)
    {
        double row = Math.Floor(b / 75);
        double shifted = a + (row % 2 * 112.5);
        double column = Math.Floor(shifted / 225);
        double edge = Math.Min(Math.Min(shifted - (column * 225), ((column + 1) * 225) - shifted), Math.Min(b - (row * 75), ((row + 1) * 75) - b)) - 5;
        float mortar = (float)Math.Clamp(0.5 - (edge / Math.Max(px, 1.5)), 0, 1);
        float own = 0.75f + (0.18f * coarse.At(column * 37.7, row * 53.3));
        return own + ((1.15f - own) * mortar);
    }

    private static float Planks(double a, double b, double px, NoiseField fine, NoiseField coarse)
    {
        const double wide = 115;
        double plank = Math.Floor(a / wide);
        double edge = Math.Min(a - (plank * wide), ((plank + 1) * wide) - a);
        float seam = (float)Math.Clamp(0.5 - ((edge - 1.5) / Math.Max(px, 0.8)), 0, 1);
        float grain = 0.12f * coarse.At((a * 2.2) + (plank * 91), b * 0.08) + (0.05f * fine.At(a * 5, b * 0.3));
        return (0.95f + (0.08f * coarse.At(plank * 71.3, 9)) + grain) * (1 - (0.75f * seam));
    }
}

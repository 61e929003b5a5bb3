using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Bench, clamp, anchor and the cards on their poles.</summary>
public sealed class Furniture(SceneOptions options, SceneCamera camera, Lighting light, RodBuild rod)
{
    private static readonly Material Steel = new(new Vector3(0.35f, 0.35f, 0.36f), 0.5, 40);

    private readonly Random _random = new(unchecked((options.Seed * 911) + 29));

    public IEnumerable<IPaint> Bench()
    {
        double towardsTip = rod.Blank.Mirrored ? -1 : 1;
        double near = -(150 + (500 * _random.NextDouble()));
        double far = Math.Abs(rod.Tip.X) + 200 + (700 * _random.NextDouble());
        double left = towardsTip > 0 ? near : -far;
        double width = far - near;
        NoiseField grain = new(options.Seed + 5, 5);
        Vector3 wood = new Vector3(0.17f, 0.085f, 0.04f) * (float)(0.5 + (2 * _random.NextDouble()));
        const double top = RodBuild.BenchY;
        double back = Math.Min(450, options.WallMm);
        yield return new Panel(camera, new Vec3(-9000, top - 45, -options.WallMm), new Vec3(1, 0, 0), new Vec3(0, -1, 0), 18000, 5000, Under);
        yield return new Panel(camera, new Vec3(left, top, -back), new Vec3(1, 0, 0), new Vec3(0, 0, 1), width, back + 260, Top);
        yield return new Panel(camera, new Vec3(left, top, 260), new Vec3(1, 0, 0), new Vec3(0, -1, 0), width, 42, Front);

        Vector3 Under(double a, double b, double px) => options.WallColour * (float)(light.Ambient * 0.55 * (1 + (0.06 * grain.At(a * 0.2, b * 0.2))));
        Vector3 Top(double a, double b, double px) => wood * (float)(light.Irradiance(new Vec3(left + a, top, b - back), new Vec3(0, 1, 0)) * Wood(a, b));
        Vector3 Front(double a, double b, double px) => wood * (float)(light.Irradiance(new Vec3(left + a, top, 260), new Vec3(0, 0, 1)) * Wood(a, b + 777));
        double Wood(double a, double b) => 1 + (0.35 * grain.At(a * 0.15, b * 1.8)) + (0.15 * grain.At((a * 0.4) + 50, b * 5));
    }

    public IEnumerable<IPaint> Clamp()
    {
        Material paint = new(_random.Next(3) switch { 0 => new(0.03f, 0.14f, 0.4f), 1 => new(0.4f, 0.04f, 0.03f), _ => new(0.05f, 0.05f, 0.055f) }, 0.3, 30);
        if (options.Build is { } build)
            paint = paint with { Albedo = build.ClampColour };
        Vec2 middle = rod.Blank.Point((RodBuild.ClampFromMm + RodBuild.ClampToMm) / 2);
        int kind = options.Build?.ClampKind ?? 0;
        yield return Bar([new(middle.X, RodBuild.BenchY, 0), new(middle.X, middle.Y - 10, 0)], kind switch { 1 => 45, 2 => 12, 3 => 60, _ => 24 }, paint);
        yield return Bar([new(middle.X - 55, RodBuild.BenchY + 5, 0), new(middle.X + 55, RodBuild.BenchY + 5, 0)], 7, paint);
        yield return Bar([Vec3.InPlane(rod.Blank.Point(RodBuild.ClampFromMm)), Vec3.InPlane(rod.Blank.Point(RodBuild.ClampToMm))], kind switch { 1 => 30, 2 => 17, 3 => 19, _ => 23 }, paint);
    }

    public IEnumerable<IPaint> Anchor()
    {
        Vec2 at = rod.Anchor;
        yield return Bar([new(at.X, RodBuild.BenchY, 0), new(at.X, RodBuild.BenchY + 14, 0)], 7, Steel);
        yield return Bar([new(at.X - 22, RodBuild.BenchY + 3, 0), new(at.X + 22, RodBuild.BenchY + 3, 0)], 4, Steel with { Albedo = new(0.3f, 0.05f, 0.04f) });
    }

    /// <summary>Poles and cards from the back to the front: a pole stands 10 mm behind its card, so it passes behind every card in the rod plane.</summary>
    public IEnumerable<IPaint> Cards(IReadOnlyList<CardStand> cards)
    {
        List<(double Z, IPaint Paint)> all = [];
        Material post = options.Build is { } b ? Steel with { Albedo = b.PostColour } : Steel;
        foreach (CardStand card in cards)
        {
            Vec2 c = card.Centre;
            double z = card.ZMm - 10;
            all.Add((z, Bar([new(c.X, c.Y, z), new(c.X, RodBuild.BenchY, z)], options.Build?.PostMm ?? 4.5, post)));
            all.Add((z, Bar([new(c.X - 30, RodBuild.BenchY + 3, z), new(c.X + 30, RodBuild.BenchY + 3, z)], 5, Steel)));
            all.Add((card.ZMm, new CardPanel(camera, light, card)));
        }

        return all.OrderBy(a => a.Z).Select(a => a.Paint);
    }

    private Tube Bar(IReadOnlyList<Vec3> points, double radius, Material m) => new(camera, light, points, _ => radius, m);
}

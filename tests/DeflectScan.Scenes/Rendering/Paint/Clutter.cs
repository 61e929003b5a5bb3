using System.Numerics;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Things behind the rod that could be taken for it: hanging cables, a shelf's edges, pictures.</summary>
public sealed class Clutter(SceneOptions options, SceneCamera camera, Lighting light, RodBuild rod)
{
    private readonly Random _random = new(unchecked((options.Seed * 2671) + 41));

    private double Left => Math.Min(0, rod.Tip.X);

    private double Span => Math.Abs(rod.Tip.X);

    private double Top => Enumerable.Range(0, 40).Max(i => rod.Blank.Point(i * rod.Blank.LengthMm / 39).Y);

    public IEnumerable<IPaint> All() => [.. Pictures(), .. Shelf(), .. Cables()];

    private IEnumerable<IPaint> Cables()
    {
        for (int k = 0; k < options.Cables; k++)
        {
            double x = Left + (Span * _random.NextDouble());
            double lean = (_random.NextDouble() - 0.5) * (_random.NextDouble() < 0.4 ? 1800 : 250);
            double sag = (_random.NextDouble() - 0.5) * 260;
            double radius = 2 + (2.2 * _random.NextDouble());
            double top = Top + 700;
            double bottom = RodBuild.BenchY + 5;
            Vec3[] path = [.. Enumerable.Range(0, 60).Select(i => i / 59.0).Select(t =>
                new Vec3(x + (lean * t) + (sag * Math.Sin(Math.PI * t)), top + ((bottom - top) * t), -options.WallMm + radius))];
            Vector3 colour = _random.Next(4) switch { 0 => new(0.3f, 0.03f, 0.02f), 1 => new(0.6f, 0.6f, 0.58f), _ => new(0.02f, 0.02f, 0.02f) };
            foreach (Vec3 lamp in light.Lamps)
                yield return new BarShadow(camera, light, lamp, options.WallMm + 12, path, _ => radius);
            yield return new ShadowMask(options, light);
            yield return new Tube(camera, light, path, _ => radius, new Material(colour, 0.2, 20));
        }
    }

    private IEnumerable<IPaint> Pictures()
    {
        for (int k = 0; k < options.Pictures; k++)
        {
            double width = 180 + (320 * _random.NextDouble());
            double height = width * (0.7 + (0.6 * _random.NextDouble()));
            Vec3 at = new(Left + (Span * _random.NextDouble()) - (width / 2), Top + 60 - (600 * _random.NextDouble()), -options.WallMm + 8);
            NoiseField scene = new(options.Seed + 100 + k, 6);
            Vector3 sky = Random3() * 0.6f;
            Vector3 ground = Random3() * 0.4f;
            double frame = 6 + (10 * _random.NextDouble());
            Vector3 rim = Random3() * 0.3f;
            yield return new Panel(camera, at, new Vec3(1, 0, 0), new Vec3(0, -1, 0), width, height, Painted);

            Vector3 Painted(double a, double b, double px)
            {
                float lit = (float)light.Irradiance(at, new Vec3(0, 0, 1));
                if (Math.Min(Math.Min(a, width - a), Math.Min(b, height - b)) < frame)
                    return rim * lit;
                float mix = Math.Clamp((float)((b / height * 2) - 0.5 + (0.7 * scene.At(a * 0.5, b * 0.5))), 0, 1);
                return Vector3.Lerp(sky, ground, mix) * (lit * (1 + (0.4f * scene.At((a * 1.6) + 70, b * 1.6))));
            }
        }
    }

    private IEnumerable<IPaint> Shelf()
    {
        if (!options.Shelf)
            yield break;
        double width = 400 + (600 * _random.NextDouble());
        double x = Left + ((Span - width) * _random.NextDouble());
        double y = 120 + ((Top - 160) * _random.NextDouble());
        double depth = Math.Min(180, options.WallMm - 60);
        double z = -options.WallMm + depth;
        Vector3 wood = new Vector3(0.2f, 0.11f, 0.05f) * (float)(0.3 + (1.5 * _random.NextDouble()));
        foreach (Vec3 lamp in light.Lamps)
            yield return new PlateShadow(camera, light, lamp, options.WallMm, [new(x, y, z), new(x + width, y, z), new(x + width, y - 20, z), new(x, y - 20, z)]);
        yield return new ShadowMask(options, light);
        yield return Board(x, y - 20, width, 20, z, wood);
        for (double at = x + 20; at < x + width - 60;)
        {
            double w = 25 + (90 * _random.NextDouble());
            double h = 60 + (140 * _random.NextDouble());
            yield return Board(at, y, Math.Min(w, x + width - at), h, z - 15, Random3() * 0.5f);
            at += w + (_random.NextDouble() < 0.4 ? 60 * _random.NextDouble() : 2);
        }
    }

    private Panel Board(double x, double y, double width, double height, double z, Vector3 colour)
    {
        Vec3 origin = new(x, y + height, z);
        return new Panel(camera, origin, new Vec3(1, 0, 0), new Vec3(0, -1, 0), width, height, (a, b, _) =>
            colour * (float)light.Irradiance(new Vec3(x + a, y + height - b, z), new Vec3(0, 0, 1)));
    }

    private Vector3 Random3() => new((float)_random.NextDouble(), (float)_random.NextDouble(), (float)_random.NextDouble());
}

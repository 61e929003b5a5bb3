using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Paints handle and reel of a built-up rod. The reel's foremost edge lies at its front's station whatever its kind and size.</summary>
public sealed class BuiltHandle(SceneOptions options, SceneCamera camera, Lighting light, RodBuild rod)
{
    /// <summary>Radius of a reel's rims, mm (chosen).</summary>
    private const double RimMm = 6;

    private static readonly Material Dark = new(new Vector3(0.018f, 0.018f, 0.02f), 0.35, 30);
    private readonly BuildOptions _build = options.Build!;
    private readonly Random _random = new(unchecked((options.Seed * 1213) + 83));

    public IEnumerable<IPaint> Handle()
    {
        double front = rod.ReelFrontMm;
        double end = options.VisibleFromMm;
        double r = _build.GripMm;
        NoiseField specks = new(options.Seed + 9, 6);
        Material grip = new(_build.GripColour, 0.06, 8) { Along = mm => 1 + ((options.CorkHandle ? 0.14 : 0.03) * specks.At(mm * 3, 7)) };
        Material metal = new(_build.FittingColour, 0.7, 50);
        double phase = 6.28 * _random.NextDouble();
        double waves = 0.012 + (0.02 * _random.NextDouble());
        double rear = front - 120 - (50 * _random.NextDouble());
        double Shaped(double s) => r * (1 + (_build.GripShape * Math.Sin(phase + (s * waves))));
        if (_build.SplitGrip)
        {
            yield return Grip(0, Math.Min(60, rear * 0.4), Shaped, grip);
            yield return Grip(0, rear, s => rod.Blank.Taper.RadiusMm(s) + 0.6, new Material(options.BlankColour, options.Gloss, 90));
        }
        else
        {
            yield return Grip(0, rear, Shaped, grip);
        }

        // Hoods and pieces of grip lie where they like: nothing but the reel itself says where the reel's front is.
        ReelOptions reel = _build.ReelShape;
        Material fitting = _random.NextDouble() < 0.5 ? metal : Dark;
        double hood = Math.Min(front + reel.HoodMm, end - 25);
        yield return Grip(rear, hood, _ => r * 0.85, _random.NextDouble() < 0.7 ? Dark : metal);
        yield return Grip(rear, rear + reel.HoodLongMm, s => r + 1 - (0.1 * r * (s - rear) / reel.HoodLongMm), metal);
        yield return Grip(hood - reel.HoodLongMm, hood, s => r * (1.08 - (0.12 * (s - hood + reel.HoodLongMm) / reel.HoodLongMm)), fitting);
        double fore = hood + ((end - hood - 10) * (_random.NextDouble() < 0.3 ? 0.2 : 1));
        yield return Grip(hood, fore, s => r - (0.3 * r * (s - hood) / (end - hood)), grip);
        yield return Grip(fore, end - reel.CheckMm, s => rod.Blank.Taper.RadiusMm(s) + 1.5, Dark);
        for (int i = 0; i < reel.ForePieces; i++)
        {
            // Rings and swells of the fore grip; never at the very end, which is where the blank begins.
            double at = hood + ((end - hood - 30) * _random.NextDouble());
            double length = Math.Min(_random.NextDouble() < 0.6 ? 2 + (8 * _random.NextDouble()) : 15 + (25 * _random.NextDouble()), end - 6 - at);
            double swell = r * (0.85 + (0.3 * _random.NextDouble()));
            Material look = _random.Next(3) switch { 0 => metal, 1 => Dark, _ => grip };
            if (length > 1)
                yield return Grip(at, at + length, s => swell * (0.93 + (0.07 * Math.Sin(Math.PI * (s - at) / length))), look);
        }

        double check = Math.Max(0.7 * r, rod.Blank.Taper.RadiusMm(end) + 1.5);
        bool cone = _random.NextDouble() < 0.5;
        yield return Grip(end - reel.CheckMm, end, s => cone ? check - ((check - rod.Blank.Taper.RadiusMm(end) - 1) * (s - end + reel.CheckMm) / reel.CheckMm) : check, metal);
    }

    public IEnumerable<IPaint> Reel() => new BuiltReel(options, rod).All(camera, light);

    private Vec3 At(double s, double height, double z)
    {
        Vec2 away = rod.Blank.Outward(s) * (options.Side == Tracing.BendSide.Outside ? 1 : -1);
        return Vec3.InPlane(rod.Blank.Point(s) + (away * height), z);
    }

    private Tube Grip(double from, double to, Func<double, double> radius, Material m)
    {
        int n = Math.Max(2, (int)Math.Ceiling((to - from) / 2));
        double[] s = [.. Enumerable.Range(0, n + 1).Select(i => from + ((to - from) * i / n))];
        return new Tube(camera, light, [.. s.Select(x => At(x, 0, 0))], i => Math.Max(radius(s[i]), rod.Blank.Taper.RadiusMm(s[i]) + 0.3), m);
    }
}

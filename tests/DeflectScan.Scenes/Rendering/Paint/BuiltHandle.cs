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

        yield return Grip(rear, rear + 12, _ => r + 1, metal);
        yield return Grip(rear + 12, front - 4, _ => r * 0.85, _random.NextDouble() < 0.7 ? Dark : metal);
        yield return Grip(front - 4, front + 10, _ => r, metal);
        double fore = front + 10 + ((end - front - 20) * (_random.NextDouble() < 0.3 ? 0.2 : 1));
        yield return Grip(front + 10, fore, s => r - (0.3 * r * (s - front) / (end - front)), grip);
        yield return Grip(fore, end - 5, s => rod.Blank.Taper.RadiusMm(s) + 1.5, Dark);
        yield return Grip(end - 5, end, s => Math.Max(0.7 * r, rod.Blank.Taper.RadiusMm(s) + 1.5), metal);
    }

    public IEnumerable<IPaint> Reel()
    {
        double f = rod.ReelFrontMm;
        double k = _build.ReelScale;
        Material line = new(options.LineColour * 0.8f, 0.1, 10);
        Material body = new(_build.ReelColour, 0.5, 40);
        Material metal = new(_build.FittingColour, 0.8, 50);
        switch (_build.Reel)
        {
            case ReelKind.None:
                yield return Body(f - 20, f - 2, 0, _ => _build.GripMm + 1.5, metal);
                yield break;
            case ReelKind.Casting:
                double round = _random.NextDouble() < 0.4 ? 2 : 6;
                yield return Body(f - (78 * k), f, 24 * k, t => 19 * k * Math.Pow(Math.Max(0.02, 1 - Math.Pow(Math.Abs((2 * t) - 1), round)), 0.5), body);
                yield return Body(f - (54 * k), f - (30 * k), 27 * k, _ => 15 * k, line);
                yield return Bar([At(f - (42 * k), 26 * k, 30), At(f - (24 * k), 44 * k, 34), At(f - (20 * k), 50 * k, 38)], 3 * k, metal);
                yield return Bar([At(f - (24 * k), 48 * k, 42), At(f - (12 * k), 50 * k, 46)], 6 * k, Dark);
                yield break;
        }

        double turn = 30 * (_random.NextDouble() - 0.5);
        yield return Bar([At(f - (60 * k), 8, 0), At(f - (62 * k), 40 * k, 0), At(f - (70 * k), 62 * k, 0)], 6.5 * k, body);
        yield return Body(f - (118 * k), f - (48 * k), 62 * k, t => k * (9 + (13 * Math.Sin(Math.PI * Math.Min(1, t + 0.15) / 1.3))), body);
        yield return Body(f - (60 * k), f - (38 * k), 62 * k, _ => 24 * k, _random.NextDouble() < 0.5 ? metal : body);
        yield return Body(f - (38 * k), f - (8 * k), 62 * k, _ => 19 * k, line);
        yield return Body(f - (8 * k), f, 62 * k, _ => 22 * k, metal);
        yield return Bar([At(f - (85 * k), 64 * k, 22), At(f - (70 * k) + turn, 82 * k, 36), At(f - (52 * k) + turn, 100 * k, 40)], 3.5 * k, metal);
        yield return Bar([At(f - (52 * k) + turn, 100 * k, 45), At(f - (40 * k) + turn, 106 * k, 52)], 9 * k, Dark);
    }

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

    private Tube Body(double from, double to, double height, Func<double, double> radius, Material m)
    {
        Vec3 a = At(from, height, 0);
        Vec3 b = At(to, height, 0);
        const int n = 24;
        double[] t = [.. Enumerable.Range(0, n + 1).Select(i => (1 - Math.Cos(Math.PI * i / n)) / 2)];
        return new Tube(camera, light, [.. t.Select(x => a + ((b - a) * x))], i => Rounded(radius(t[i]), Math.Min(t[i], 1 - t[i]) * (to - from)), m);
    }

    // A turned part's rims are rounded: what is seen of its front from the side is no corner.
    private static double Rounded(double radius, double fromEnd)
    {
        double rim = Math.Min(RimMm, 0.35 * radius);
        double u = Math.Max(0, 1 - (fromEnd / rim));
        return Math.Max(0.05, radius - (rim * (1 - Math.Sqrt(1 - (u * u)))));
    }

    private Tube Bar(Vec3[] points, double radius, Material m) => new(camera, light, points, _ => radius, m, round: true);
}

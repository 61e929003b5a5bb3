using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Paints holders, spare pieces and decorations: each a sleeve about the blank with the profile of its kind.</summary>
public sealed class BlankPiecePainter(SceneOptions options, SceneCamera camera, Lighting light, RodBuild rod)
{
    private readonly Random _random = new(unchecked((options.Seed * 3313) + 57));

    public IEnumerable<IPaint> All() => [.. rod.Pieces.SelectMany(Of)];

    private IEnumerable<IPaint> Of(BlankPiece p)
    {
        BuildOptions b = options.Build!;
        double own = 0.9 + (0.2 * _random.NextDouble());
        Material holder = new(b.HolderColour * (float)own, b.HolderGloss, 30, b.HolderOpacity);
        double length = p.ToMm - p.FromMm;

        // Over a foot a holder stands out on the guide's side.
        double lift = p.Guide is null ? 0 : 0.35;
        switch (p.Kind)
        {
            case "tubing":
                yield return Sleeve(p, lift, holder, u => p.ThickMm * (Math.Min(u, length - u) < 0.5 ? 0.75 : 1));
                break;
            case "band":
                double turns = 2 + _random.Next(3);
                yield return Sleeve(p, lift, holder, u => p.ThickMm * (0.65 + (0.35 * Math.Abs(Math.Sin(Math.PI * turns * u / length)))));
                if (_random.NextDouble() < 0.2)
                    yield return Tail(p, 3 + (6 * _random.NextDouble()), 0.5, holder);
                break;
            case "tape":
                yield return Sleeve(p, lift, holder with { Gloss = 0.05 }, _ => p.ThickMm * 0.5);
                if (_random.NextDouble() < 0.12)
                    yield return Tail(p, 2 + (5 * _random.NextDouble()), 1.2, holder with { Gloss = 0.05 });
                break;
            case "thread":
                Vector3 colour = p.Role == "holder" ? b.HolderColour : options.WrapColour;
                Material thread = new(colour, 0.45, 60) { Along = mm => 1 + (0.05 * Math.Sin(mm * 14)) };
                yield return Sleeve(p, lift, thread, u => 0.3 + (0.35 * Math.Min(1, Math.Min(u, length - u) / 2.5)));
                if (b.TrimBands)
                {
                    Material trim = new(b.TrimColour, 0.5, 60);
                    yield return Sleeve(p with { ToMm = p.FromMm + 1.4 }, lift, trim, _ => 0.6);
                    yield return Sleeve(p with { FromMm = p.ToMm - 1.4 }, lift, trim, _ => 0.6);
                }

                break;
            case "label":
                Vector3 paper = new Vector3((float)_random.NextDouble(), (float)_random.NextDouble(), (float)_random.NextDouble()) * 0.7f;
                NoiseField letters = new(options.Seed + 31, 4);
                yield return Sleeve(p, 0, new Material(paper, options.Gloss, 80) { Along = mm => 1 + (0.5 * letters.At(mm * 9, 3)) }, _ => 0.05);
                break;
            case "wire":
                Vec3[] loop = [.. Enumerable.Range(0, 11).Select(i => i / 10.0).Select(t => Beside(p.FromMm + (t * length), rod.Blank.Taper.RadiusMm(p.FromMm) + (4 * Math.Sin(Math.PI * t)), p.ThickMm))];
                yield return new Tube(camera, light, loop, _ => 0.45, new Material(b.FrameColour, 0.6, 40), round: true);
                yield return Sleeve(p with { ToMm = p.FromMm + 2 }, 0, new Material(options.WrapColour, 0.3, 40), _ => 0.4);
                break;
            default:
                Material metal = p.Role == "ferrule" ? new Material(options.BlankColour * 0.8f, options.Gloss, 60) : new Material(b.TrimColour, 0.8, 50);
                yield return Sleeve(p, 0, metal, _ => p.ThickMm);
                break;
        }
    }

    private Vec3 Beside(double s, double height, double z)
    {
        Vec2 away = rod.Blank.Outward(s) * (options.Side == Tracing.BendSide.Outside ? 1 : -1);
        return Vec3.InPlane(rod.Blank.Point(s) + (away * height), z);
    }

    private Tube Sleeve(BlankPiece p, double lift, Material m, Func<double, double> thick)
    {
        int n = Math.Max(4, (int)((p.ToMm - p.FromMm) / 0.5));
        double[] s = [.. Enumerable.Range(0, n + 1).Select(i => p.FromMm + ((p.ToMm - p.FromMm) * i / n))];
        return new Tube(camera, light, [.. s.Select(x => Beside(x, lift, 0))], i => rod.Blank.Taper.RadiusMm(s[i]) + lift + thick(s[i] - p.FromMm), m);
    }

    // A loose end that sticks out.
    private Tube Tail(BlankPiece p, double length, double radius, Material m)
    {
        double s = p.FromMm + ((p.ToMm - p.FromMm) * _random.NextDouble());
        double way = _random.NextDouble() < 0.5 ? -1 : 1;
        double skin = rod.Blank.Taper.RadiusMm(s);
        double lean = 4 * (_random.NextDouble() - 0.5);
        return new Tube(camera, light, [Beside(s, way * skin, skin * 0.6), Beside(s + (lean * 0.6), way * (skin + (0.6 * length)), skin), Beside(s + lean, way * (skin + length), skin)], _ => radius, m, round: true);
    }
}

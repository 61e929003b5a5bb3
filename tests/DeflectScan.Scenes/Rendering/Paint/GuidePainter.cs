using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;
using DeflectScan.Tracing;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Paints each guide: ring (a thin torus across the blank), wire frame, feet under thread wraps; and the tip-top.</summary>
public sealed class GuidePainter(SceneOptions options, SceneCamera camera, Lighting light, RodBuild rod)
{
    private static readonly Material Wire = new(new Vector3(0.22f, 0.22f, 0.23f), 0.7, 40);
    private static readonly Material RingLook = new(new Vector3(0.06f, 0.06f, 0.065f), 0.6, 60);

    /// <summary>The half of each ring and the wires that lie behind the rod plane.</summary>
    public IEnumerable<IPaint> Behind() => rod.Gates.SelectMany(g => Frame(g, -1).Append(HalfRing(g, -1)));

    public IEnumerable<IPaint> InFront() => rod.Gates.SelectMany(g => Frame(g, 1).Append(HalfRing(g, 1)));

    public IEnumerable<IPaint> Wraps()
    {
        Material thread = new(options.WrapColour, 0.45, 60) { Along = mm => 1 + (0.05 * Math.Sin(mm * 14)) };
        if (options.Seed % 2 == 0)
        {
            // A ferrule or a decoration: thread where no guide stands.
            double bare = Bare();
            yield return Wrap(bare, bare + 22, 0.45, thread);
            yield return Wrap(bare + 4, bare + 6, 0.5, Wire);
        }

        foreach (RingGate g in rod.Gates)
        {
            if (g == rod.Gates[^1])
            {
                yield return Wrap(g.StationMm - 11, g.StationMm, 0.45, Wire);
                continue;
            }

            foreach ((double from, double to) in Feet(g))
                yield return Wrap(from, to, 0.35 + (0.02 * g.OuterMm), thread);
        }
    }

    private static bool HasTwoFeet(RingGate g) => g.OuterMm > 9;

    private static double Reach(RingGate g) => (0.7 * g.CentreHeightMm) + 3;

    private static (double From, double To)[] Feet(RingGate g) => HasTwoFeet(g)
        ? [(g.StationMm - Reach(g) - 15, g.StationMm - Reach(g)), (g.StationMm + (0.5 * Reach(g)), g.StationMm + (0.5 * Reach(g)) + 14)]
        : [(g.StationMm - (0.55 * Reach(g)) - 12, g.StationMm - (0.55 * Reach(g)))];

    private double Bare()
    {
        double s = options.BlankLengthMm * 0.5;
        while (rod.Gates.Any(g => Math.Abs(g.StationMm - s - 11) < 45))
            s += 10;
        return s;
    }

    private Tube Wrap(double from, double to, double thicker, Material m)
    {
        int n = Math.Max(2, (int)((to - from) / 0.6));
        double[] s = [.. Enumerable.Range(0, n + 1).Select(i => from + ((to - from) * i / n))];
        return new Tube(camera, light, [.. s.Select(x => Vec3.InPlane(rod.Blank.Point(x)))], i => rod.Blank.Taper.RadiusMm(s[i]) + thicker, m);
    }

    private Vec3 At(double s, double height, double z)
    {
        Vec2 away = rod.Blank.Outward(s) * (options.Side == BendSide.Outside ? 1 : -1);
        return Vec3.InPlane(rod.Blank.Point(s) + (away * height), z);
    }

    private Tube HalfRing(RingGate g, int side)
    {
        double thick = (g.OuterMm - g.InnerMm) / 4;
        double radius = (g.InnerMm / 2) + thick;
        const int n = 24;
        Vec3[] arc = [.. Enumerable.Range(0, n + 1).Select(i => Math.PI * i / n).Select(a =>
            Vec3.InPlane(g.Centre + (g.Away * (radius * Math.Cos(a))), side * radius * Math.Sin(a)))];
        return new Tube(camera, light, arc, _ => thick, RingLook, round: true);
    }

    private IEnumerable<IPaint> Frame(RingGate g, int side)
    {
        double s = g.StationMm;
        double skin = rod.Blank.Taper.RadiusMm(s);
        double ring = (g.OuterMm + g.InnerMm) / 4;
        double h = g.CentreHeightMm;
        double wire = Math.Clamp(0.035 * g.OuterMm, 0.38, 0.8);
        bool tip = g == rod.Gates[^1];
        double foot = tip ? 7 : HasTwoFeet(g) ? Reach(g) : 0.55 * Reach(g);
        Vec3[] back = Curve(
            At(s - foot - 1, skin + 0.2, side * 0.5),
            At(s - (0.55 * foot), skin + (0.3 * (h - skin)), side * 0.6 * ring),
            At(s - 0.3, h - (0.2 * ring), side * 0.98 * ring));
        yield return new Tube(camera, light, back, _ => wire, Wire, round: true);
        if (tip || !HasTwoFeet(g))
            yield break;
        Vec3[] front = Curve(
            At(s + (0.5 * foot) + 1, skin + 0.2, side * 0.5),
            At(s + (0.35 * foot), skin + (0.5 * (h - ring - skin)), side * 0.5),
            At(s, h - ring, side * 0.5));
        yield return new Tube(camera, light, front, _ => wire, Wire, round: true);
    }

    // Quadratic Bezier.
    private static Vec3[] Curve(Vec3 a, Vec3 b, Vec3 c) => [.. Enumerable.Range(0, 13).Select(i => i / 12.0).Select(t =>
        (a * ((1 - t) * (1 - t))) + (b * (2 * t * (1 - t))) + (c * (t * t)))];
}

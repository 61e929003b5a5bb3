using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Paints the guides of a built-up rod as their stances say: feet, frame of the option's kind, ring with a ceramic insert.</summary>
public sealed class BuiltGuides
{
    private readonly SceneCamera _camera;
    private readonly Lighting _light;
    private readonly RodBuild _rod;
    private readonly BuildOptions _build;
    private readonly Material _frame;
    private readonly Material _ring;

    public BuiltGuides(SceneOptions options, SceneCamera camera, Lighting light, RodBuild rod)
    {
        (_camera, _light, _rod, _build) = (camera, light, rod, options.Build!);
        _frame = new Material(_build.FrameColour, 0.65, 45);
        _ring = new Material(_build.RingColour, 0.6, 60);
    }

    public IEnumerable<IPaint> Behind() => _rod.Gates.SelectMany(g => Frame(g, -1).Concat(HalfRing(g, -1)));

    public IEnumerable<IPaint> InFront() => _rod.Gates.SelectMany(g => Frame(g, 1).Concat(HalfRing(g, 1)));

    /// <summary>Feet on the blank, below their holders.</summary>
    public IEnumerable<IPaint> Feet()
    {
        foreach (RingGate g in _rod.Gates)
        {
            foreach ((double from, double to) in g.Stance!.Plan.Feet)
            {
                double thick = FootRadius(g);
                yield return Bar([.. Enumerable.Range(0, 7).Select(i => OnSkin(g, from + ((to - from) * i / 6), 0.35 * thick))], thick, _frame);
            }
        }
    }

    /// <summary>Legs and rings as lines, for their shadows.</summary>
    public IEnumerable<(IReadOnlyList<Vec3> Points, double Radius)> Casters()
    {
        foreach (RingGate g in _rod.Gates)
        {
            foreach (int side in new[] { -1, 1 })
            {
                foreach (Vec3[] leg in Legs(g, side))
                    yield return (leg, Wire(g));
                yield return (Arc(g, side, (g.OuterMm + g.InnerMm) / 4), (g.OuterMm - g.InnerMm) / 4);
            }
        }
    }

    private static double FootRadius(RingGate g) => Math.Clamp(0.04 * g.OuterMm, 0.5, 1);

    private double Wire(RingGate g) => _build.Frame == FrameKind.Plate ? Math.Clamp(0.06 * g.OuterMm, 0.6, 1.5) : Math.Clamp(0.035 * g.OuterMm, 0.38, 0.85);

    private Vec3 OnSkin(RingGate g, double along, double above)
    {
        double s = Math.Min(g.StationMm + along, _rod.Blank.LengthMm);
        Vec2 away = _rod.Blank.Outward(s) * Math.Sign(_rod.Blank.Outward(g.StationMm).Dot(g.Away));
        double twist = g.Stance!.TwistRadians;
        double height = _rod.Blank.Taper.RadiusMm(s) + above;
        return Vec3.InPlane(_rod.Blank.Point(s) + (away * (height * Math.Cos(twist))), height * Math.Sin(twist));
    }

    private IEnumerable<IPaint> Frame(RingGate g, int side) => Legs(g, side).Select(leg => Bar(leg, Wire(g), _frame));

    private IEnumerable<Vec3[]> Legs(RingGate g, int side)
    {
        GuideStance stance = g.Stance!;
        GuidePlan plan = stance.Plan;
        double ring = (g.OuterMm + g.InnerMm) / 4;
        if (plan.Feet.Count == 0)
        {
            // The tip-top's tube and its two stays.
            yield return Curve(OnSkin(g, -8, 0.2), stance.At(-4, 0.7 * plan.HeightMm, side * 0.7 * ring), On(0.1, side));
            yield break;
        }

        for (int i = 0; i < plan.Feet.Count; i++)
        {
            (double from, double to) = plan.Feet[i];
            bool back = from + to < 0;
            double at = back ? to : from;
            double skin = _rod.Blank.Taper.RadiusMm(plan.StationMm + at);
            Vec3 foot = OnSkin(g, at, 0.2);
            FrameKind kind = i > 0 && _build.Frame == FrameKind.Wire ? FrameKind.Stem : _build.Frame;
            double low = plan.HeightMm - ring;
            switch (kind)
            {
                case FrameKind.Wire:
                    yield return Curve(foot, stance.At(0.6 * at, skin + (0.35 * (plan.HeightMm - skin)), side * 0.7 * ring), On(0.1, side));
                    break;
                case FrameKind.Plate:
                    yield return Curve(foot, stance.At(0.5 * at, skin + (0.5 * (low - skin)), side * 0.5 * ring), On(-0.5, side));
                    yield return Curve(foot, stance.At(0.3 * at, skin + (0.6 * (low - skin)), side * 0.2), On(-0.95, side));
                    break;
                case FrameKind.Fork:
                    Vec3 fork = stance.At(0.5 * at, skin + (0.45 * (low - skin)), 0);
                    yield return Curve(foot, stance.At(0.8 * at, skin + (0.2 * (low - skin)), 0), fork);
                    yield return Curve(fork, stance.At(0.3 * at, low, side * 0.6 * ring), On(-0.3, side));
                    break;
                default:
                    yield return Curve(foot, stance.At(0.5 * at, skin + (0.6 * (low - skin)), side * 0.3), On(-0.98, side));
                    break;
            }
        }

        // On the ring: up its disc by a share of its radius.
        Vec3 On(double up, int way) => stance.Centre + (stance.RingUp * (ring * up)) + (stance.RingSide * (way * ring * Math.Sqrt(1 - (up * up))));
    }

    private IEnumerable<IPaint> HalfRing(RingGate g, int side)
    {
        double thick = (g.OuterMm - g.InnerMm) / 4;
        yield return Bar(Arc(g, side, (g.OuterMm / 2) - (0.6 * thick)), thick * 0.75, _frame);
        yield return Bar(Arc(g, side, (g.InnerMm / 2) + (0.8 * thick)), thick * 0.8, _ring);
    }

    private static Vec3[] Arc(RingGate g, int side, double radius)
    {
        GuideStance s = g.Stance!;
        const int n = 24;
        return [.. Enumerable.Range(0, n + 1).Select(i => Math.PI * i / n).Select(a =>
            s.Centre + (s.RingUp * (radius * Math.Cos(a))) + (s.RingSide * (side * radius * Math.Sin(a))))];
    }

    private Tube Bar(Vec3[] points, double radius, Material m) => new(_camera, _light, points, _ => radius, m, round: true);

    // Quadratic Bezier.
    private static Vec3[] Curve(Vec3 a, Vec3 b, Vec3 c) => [.. Enumerable.Range(0, 11).Select(i => i / 10.0).Select(t =>
        (a * ((1 - t) * (1 - t))) + (b * (2 * t * (1 - t))) + (c * (t * t)))];
}

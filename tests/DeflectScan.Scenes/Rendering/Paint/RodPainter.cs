using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;
using DeflectScan.Tracing;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Paints handle, reel, blank, cord, line and weight; the guides come from <see cref="GuidePainter"/>.</summary>
public sealed class RodPainter(SceneOptions options, SceneCamera camera, Lighting light, RodBuild rod)
{
    private static readonly Material Dark = new(new Vector3(0.018f, 0.018f, 0.02f), 0.35, 30);
    private static readonly Material Metal = new(new Vector3(0.42f, 0.42f, 0.44f), 0.8, 50);

    private readonly GuidePainter _guides = new(options, camera, light, rod);

    private BentBlank Blank => rod.Blank;

    /// <summary>Everything in the rod plane, from the back to the front.</summary>
    public IEnumerable<IPaint> All() => options.Build is { } build ? BuiltUp(build) :
    [
        .. _guides.Behind(), .. Reel(), .. Handle(), Stretch(options.VisibleFromMm - 1, Blank.LengthMm, 0, BlankMaterial()), .. _guides.Wraps(),
        .. options.AtRest ? [] : Cord(), Line(1, options.LineOpacity), .. Weight(), .. _guides.InFront(),
    ];

    /// <summary>What throws shadows on the wall, as bars.</summary>
    public IEnumerable<(IReadOnlyList<Vec3> Points, Func<int, double> Radius)> Casters()
    {
        (Vec3[] blank, double[] s) = Path(0, Blank.LengthMm, 10, 0);
        yield return (blank, i => Math.Max(Blank.Taper.RadiusMm(s[i]), s[i] < options.VisibleFromMm ? 13 : 0));
        if (!options.AtRest)
            yield return ([Vec3.InPlane(rod.Tip), Vec3.InPlane(rod.Anchor)], _ => options.CordMm / 2);
        yield return ([.. LinePath.Vertices(rod).Select(v => Vec3.InPlane(v.Mm)), Vec3.InPlane(rod.HangsTo)], _ => options.LineMm / 2);
        yield return ([Vec3.InPlane(rod.HangsTo), Vec3.InPlane(rod.HangsTo - new Vec2(0, 40))], _ => 7);
        if (options.Build is { } build)
        {
            foreach ((IReadOnlyList<Vec3> points, double radius) in new BuiltGuides(options, camera, light, rod).Casters())
                yield return (points, _ => radius);
            foreach (BlankPiece p in rod.Pieces)
                yield return (Path(p.FromMm, p.ToMm, 2, 0).Points, _ => Blank.Taper.RadiusMm(p.FromMm) + p.ThickMm);
            if (build.Reel != ReelKind.None)
                yield return ([At(rod.ReelFrontMm - 90, 50 * build.ReelScale, 0), At(rod.ReelFrontMm - 5, 50 * build.ReelScale, 0)], _ => 20 * build.ReelScale);
            yield break;
        }

        foreach (RingGate g in rod.Gates)
            yield return ([Vec3.InPlane(g.Foot), Vec3.InPlane(g.Foot + (g.Away * (g.CentreHeightMm + (g.OuterMm / 2))))], _ => 1);
        yield return ([At(rod.ReelFrontMm - 90, 50, 0), At(rod.ReelFrontMm - 5, 50, 0)], _ => 20);
    }

    private IEnumerable<IPaint> BuiltUp(BuildOptions build)
    {
        BuiltGuides guides = new(options, camera, light, rod);
        BuiltHandle handle = new(options, camera, light, rod);
        double tip = Blank.LengthMm;
        foreach (IPaint p in guides.Behind().Concat(handle.Reel()).Concat(handle.Handle()))
            yield return p;
        yield return Stretch(options.VisibleFromMm - 1, tip, 0, BlankMaterial());
        if (build.SecondColour is { } second)
            yield return Stretch(build.SecondFrom * tip, tip, 0.02, BlankMaterial() with { Albedo = second });
        foreach (IPaint p in guides.Feet().Concat(new BlankPiecePainter(options, camera, light, rod).All()))
            yield return p;
        yield return Stretch(tip - 10, tip, 0.45, new Material(build.FrameColour, 0.6, 40));
        foreach (IPaint p in options.AtRest ? [] : Cord())
            yield return p;
        yield return Line(1, options.LineOpacity);
        if (build.LineCore > 0)
            yield return Line(0.4, build.LineCore * 0.7, new Vector3(0.9f, 0.92f, 0.95f));
        foreach (IPaint p in Weight().Concat(guides.InFront()))
            yield return p;
    }

    private Material BlankMaterial() => new(options.BlankColour, options.Gloss, 90);

    private Vec3 At(double s, double height, double z)
    {
        Vec2 away = Blank.Outward(s) * (options.Side == BendSide.Outside ? 1 : -1);
        return Vec3.InPlane(Blank.Point(s) + (away * height), z);
    }

    private (Vec3[] Points, double[] Stations) Path(double from, double to, double step, double height)
    {
        int n = Math.Max(2, (int)Math.Ceiling((to - from) / step));
        double[] s = [.. Enumerable.Range(0, n + 1).Select(i => from + ((to - from) * i / n))];
        return ([.. s.Select(x => At(x, height, 0))], s);
    }

    private Tube Stretch(double from, double to, double thicker, Material m)
    {
        (Vec3[] points, double[] s) = Path(from, to, 4, 0);
        return new Tube(camera, light, points, i => Blank.Taper.RadiusMm(s[i]) + thicker, m);
    }

    private IEnumerable<IPaint> Handle()
    {
        double front = rod.ReelFrontMm;
        double end = options.VisibleFromMm;
        NoiseField specks = new(options.Seed + 9, 6);
        Material grip = options.CorkHandle
            ? new Material(new Vector3(0.50f, 0.29f, 0.12f)) { Along = mm => 1 + (0.12 * specks.At(mm * 3, 7)) }
            : new Material(new Vector3(0.022f, 0.022f, 0.022f), 0.05, 8);
        yield return Grip(0, front - 150, _ => 13.5, grip);
        yield return Grip(front - 150, front - 138, _ => 14.5, Metal);
        yield return Grip(front - 138, front - 4, _ => 11.5, Dark);
        yield return Grip(front - 4, front + 10, _ => 13.5, Metal);
        yield return Grip(front + 10, end - 5, s => 13.5 - (3.5 * (s - front) / (end - front)), grip);
        yield return Grip(end - 5, end, s => Math.Max(9.5, Blank.Taper.RadiusMm(s) + 1.5), Metal);
    }

    private Tube Grip(double from, double to, Func<double, double> radius, Material m)
    {
        (Vec3[] points, double[] s) = Path(from, to, 2, 0);
        return new Tube(camera, light, points, i => radius(s[i]), m);
    }

    private IEnumerable<IPaint> Reel()
    {
        double f = rod.ReelFrontMm;
        Material line = new(options.LineColour * 0.8f, 0.1, 10);
        if (options.Side == BendSide.Outside)
        {
            yield return Body(f - 78, f - 6, 24, t => 19 * Math.Sqrt(Math.Max(0.05, 1 - (Math.Pow((2 * t) - 1, 2) * 0.9))), Dark);
            yield return Body(f - 52, f - 32, 26, _ => 15, line);
            yield return new Tube(camera, light, [At(f - 42, 26, 30), At(f - 20, 46, 34), At(f - 14, 52, 38)], _ => 3, Metal, round: true);
            yield break;
        }

        yield return new Tube(camera, light, [At(f - 60, 8, 0), At(f - 62, 40, 0), At(f - 70, 62, 0)], _ => 6.5, Dark, round: true);
        yield return Body(f - 118, f - 48, 62, t => 9 + (13 * Math.Sin(Math.PI * Math.Min(1, t + 0.15) / 1.3)), Dark);
        yield return Body(f - 60, f - 38, 62, _ => 24, Metal with { Albedo = new Vector3(0.1f, 0.1f, 0.1f) });
        yield return Body(f - 38, f - 8, 62, _ => 19, line);
        yield return Body(f - 8, f - 2, 62, _ => 22, Metal);
        yield return new Tube(camera, light, [At(f - 85, 64, 22), At(f - 70, 82, 36), At(f - 52, 100, 40)], _ => 3.5, Metal, round: true);
        yield return new Tube(camera, light, [At(f - 52, 100, 45), At(f - 40, 106, 52)], _ => 9, Dark, round: true);
    }

    private Tube Body(double from, double to, double height, Func<double, double> radius, Material m)
    {
        // A straight body beside the blank, along the tangent at the reel seat.
        Vec3 a = At(from, height, 0);
        Vec3 b = At(to, height, 0);
        const int n = 16;
        return new Tube(camera, light, [.. Enumerable.Range(0, n + 1).Select(i => a + ((b - a) * (i / (double)n)))], i => radius(i / (double)n), m);
    }

    private IEnumerable<IPaint> Cord()
    {
        Vector3 colour = options.Build?.CordColour ?? (options.Seed % 3 == 0 ? new Vector3(0.6f, 0.55f, 0.1f) : new Vector3(0.55f, 0.53f, 0.46f));
        double strength = options.Build?.CordTwist ?? 0.15;
        double turn = options.Build is { } build ? 2 * Math.PI / build.CordTwistMm : 1.3;
        Material fibre = new(colour) { Along = mm => 1 + (strength * Math.Sin(mm * turn)) };
        Vec2 tip = rod.Tip;
        Vec2 anchor = rod.Anchor;
        int n = (int)(tip.DistanceTo(anchor) / 2);
        yield return new Tube(camera, light, [.. Enumerable.Range(0, n + 1).Select(i => Vec3.InPlane(Vec2.Lerp(tip, anchor, i / (double)n)))], _ => options.CordMm / 2, fibre);
        Vec2 down = (anchor - tip).Normalized();
        yield return new Tube(camera, light, [Vec3.InPlane(tip - (down * 1)), Vec3.InPlane(tip + (down * 6))], _ => options.CordMm * 0.75, fibre, round: true);
    }

    private Tube Line(double thinner, double opacity, Vector3? colour = null)
    {
        List<Vec3> path = [.. LinePath.Vertices(rod).Select(v => Vec3.InPlane(v.Mm)), Vec3.InPlane(rod.HangsTo)];
        List<Vec3> fine = [path[0]];
        for (int i = 1; i < path.Count; i++)
        {
            int n = 1 + (int)((path[i] - path[i - 1]).Length / 25);
            for (int k = 1; k <= n; k++)
                fine.Add(path[i - 1] + ((path[i] - path[i - 1]) * (k / (double)n)));
        }

        return new Tube(camera, light, fine, _ => thinner * options.LineMm / 2, new Material(colour ?? options.LineColour, 0.25, 30, opacity), round: true);
    }

    private IEnumerable<IPaint> Weight()
    {
        Vec2 top = rod.HangsTo;
        const int n = 20;
        yield return new Tube(
            camera,
            light,
            [.. Enumerable.Range(0, n + 1).Select(i => Vec3.InPlane(top - new Vec2(0, 38.0 * i / n)))],
            i => 1 + (7 * Math.Pow(Math.Sin(Math.PI * 0.97 * Math.Pow(i / (double)n, 1.4)), 0.8)),
            new Material(new Vector3(0.16f, 0.16f, 0.17f), 0.3, 20));
    }
}

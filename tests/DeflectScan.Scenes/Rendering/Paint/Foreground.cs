using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Things in front of the rod. What they hide is asked of the very outlines that are painted.</summary>
public sealed class Foreground
{
    private const int Tries = 24;
    private readonly SceneOptions _options;
    private readonly SceneCamera _camera;
    private readonly Lighting _light;
    private readonly RodBuild _rod;

    public Foreground(SceneOptions options, SceneCamera camera, Lighting light, RodBuild rod, IReadOnlyList<CardStand> cards)
    {
        (_options, _camera, _light, _rod) = (options, camera, light, rod);
        Vec2[] keep = [.. cards.SelectMany(c => Enumerable.Range(0, 35).Select(i => camera.Project(Vec3.InPlane(c.At(-15 + (52.5 * (i % 5)), -22.5 + (49.5 * (i / 5))), c.ZMm))))];
        All = [.. options.InFront.SelectMany((f, i) => Clear(f, i, keep))];
    }

    /// <summary>From the back to the front.</summary>
    public IReadOnlyList<ICover> All { get; }

    public bool Hides(Vec2 px) => All.Any(c => c.Covers(px));

    // Turned on and on until it leaves every card free; left out where no turn does.
    private List<ICover> Clear(FrontOptions f, int index, Vec2[] keep)
    {
        for (int i = 0; i < Tries; i++)
        {
            Random r = new(unchecked((_options.Seed * 7477) + (index * 131) + i));
            bool turns = f.Kind is FrontKind.Hand or FrontKind.Sleeve or FrontKind.ClampArm or FrontKind.Twig;
            List<ICover> parts = [.. Of(turns ? f with { TurnDeg = f.TurnDeg + (i * 47) } : f with { At = (f.At + (i * 0.137)) % 1, OverGuide = i == 0 ? f.OverGuide : null }, r)];
            if (!keep.Any(k => parts.Exists(p => p.Covers(k))))
                return parts;
        }

        return [];
    }

    private IEnumerable<ICover> Of(FrontOptions f, Random r)
    {
        double from = _options.VisibleFromMm;
        double s = f.OverGuide is { } g ? _rod.Gates[Math.Min(g, _rod.Gates.Count) - 1].StationMm : from + (f.At * (_rod.Blank.LengthMm - from));
        Vec3 eye = _camera.Position;

        // The middle is set on the ray from the camera to the blank, so that it hides the station it is meant for.
        Vec3 on = Vec3.InPlane(f.OverGuide is { } h ? _rod.Contacts[Math.Min(h, _rod.Gates.Count) - 1] : _rod.Blank.Point(s));
        Vec3 at = on + ((eye - on) * (f.BeforeMm / (eye.Z - on.Z)));
        double blank = _rod.Blank.Angle(s);
        double turn = f.TurnDeg * Math.PI / 180;
        Vec3 across = new(Math.Cos(blank + (Math.PI / 2) + turn), Math.Sin(blank + (Math.PI / 2) + turn), 0);
        return f.Kind switch
        {
            FrontKind.Hand => Hand(f, at, across, r),
            FrontKind.Sleeve => Sleeve(f, at - (across * 300), across, f.WideMm / 2, r),
            FrontKind.Cloth => [Sheet(at + new Vec3(0, 120 + (200 * r.NextDouble()), 0), Turned(turn * 0.3), f.WideMm, 300 + (500 * r.NextDouble()), f.Colour, r, folds: true)],
            FrontKind.Tape => [Sheet(at + (across * (20 + (40 * r.NextDouble()))), new Vec3(across.Y, -across.X, 0), f.WideMm, 60 + (100 * r.NextDouble()), f.Colour, r, folds: false)],
            FrontKind.Post => [Bar([new Vec3(at.X, RodBuild.BenchY, at.Z), at, at + (Turned(turn * 0.1).Cross(new Vec3(0, 0, -1)) * 2500)], _ => f.WideMm / 2, new Material(f.Colour, 0.4 * r.NextDouble(), 30))],
            FrontKind.Twig => Twig(f, at, across, r),
            FrontKind.ClampArm => Arm(f, at, across, r),
            _ => [Bar([.. Enumerable.Range(0, 41).Select(i => (i - 20) / 20.0).Select(t => at + new Vec3((900 * t * Math.Sin(turn)) + (60 * Math.Sin(2.2 * t)), 1500 * t, 0))], _ => Math.Clamp(f.WideMm / 6, 3, 6), new Material(f.Colour, 0.3, 20))],
        };
    }

    private static Vec3 Turned(double angle) => new(Math.Cos(angle), Math.Sin(angle), 0);

    private IEnumerable<ICover> Sleeve(FrontOptions f, Vec3 start, Vec3 along, double radius, Random r)
    {
        NoiseField folds = new(r.Next(), 4);
        Material cloth = new(f.Colour) { Along = mm => 1 + (0.22 * folds.At(mm * 0.6, 5)) };
        yield return Bar([.. Enumerable.Range(0, 61).Select(i => start + (along * (40.0 * i)))], i => radius * (1 + (0.008 * i) + (0.06 * folds.At(i * 3, 40))), cloth);
    }

    private IEnumerable<ICover> Hand(FrontOptions f, Vec3 at, Vec3 out3, Random r)
    {
        Material skin = new(new Vector3(0.55f, 0.32f, 0.22f) * (float)(0.15 + (1.05 * r.NextDouble())), 0.06, 12);
        double k = Math.Clamp(f.WideMm / 90, 0.8, 1.15);
        Vec3 along = new(-out3.Y, out3.X, 0);
        Vec3 palm = at + (out3 * (55 * k));
        foreach (ICover c in Sleeve(f, palm + (out3 * 95), out3, 42 * k, r))
            yield return c;
        yield return Bar([palm + (out3 * 110), palm + (out3 * 60), palm + (out3 * 20), palm - (out3 * 16)], i => k * (i switch { 0 => 27, 1 => 30, 2 => 40, _ => 34 }), skin, round: true);

        // As many fingers as the width asks for reach over the blank.
        int fingers = Math.Clamp((int)Math.Round(f.WideMm / 22), 1, 4);
        for (int i = 0; i < fingers; i++)
        {
            double side = (i - ((fingers - 1) / 2.0)) * 20 * k;
            double reach = (14 + (16 * r.NextDouble())) * k;
            Material own = skin with { Albedo = skin.Albedo * (float)(0.86 + (0.2 * r.NextDouble())) };
            yield return Bar([palm + (along * (side * 0.9)), at + (along * side) + (out3 * 12), at + (along * side) - (out3 * reach)], j => k * (j switch { 0 => 10.5, 1 => 9.5, _ => 8 }), own, round: true);
        }
    }

    private IEnumerable<ICover> Arm(FrontOptions f, Vec3 at, Vec3 across, Random r)
    {
        Material steel = new(f.Colour, 0.6, 40);
        double half = Math.Min(f.WideMm, 60) / 2;
        Vec3 end = at - (across * (60 + (200 * r.NextDouble())));
        Vec3 elbow = at + (across * (250 + (350 * r.NextDouble())));
        double bend = (r.NextDouble() - 0.5) * 2;
        Vec3 on = (across * Math.Cos(bend)) + (new Vec3(-across.Y, across.X, 0) * Math.Sin(bend));
        yield return Bar([elbow, elbow + (on * 2200)], _ => half * 0.9, steel);
        yield return Bar([end, elbow], _ => half * 0.75, steel);
        yield return Bar([elbow - (on * half), elbow + (on * half)], _ => half * 1.3, steel with { Albedo = f.Colour * 0.5f });
    }

    private IEnumerable<ICover> Twig(FrontOptions f, Vec3 at, Vec3 across, Random r)
    {
        Vector3 green = new Vector3((float)(0.05 + (0.15 * r.NextDouble())), (float)(0.12 + (0.3 * r.NextDouble())), 0.04f) * (float)(0.5 + r.NextDouble());
        Vec3 side = new(-across.Y, across.X, 0);
        Vec3[] stem = [.. Enumerable.Range(0, 15).Select(i => at + (across * ((i - 3) * 70.0)) + (side * (12 * Math.Sin(i * 0.9))))];
        yield return Bar(stem, i => 1.2 + (0.35 * i), new Material(new Vector3(0.1f, 0.06f, 0.03f)));
        double long1 = Math.Clamp(f.WideMm, 20, 90);
        for (int i = 1; i < 14; i++)
        {
            Vec3 leaf = ((side * (i % 2 == 0 ? 1 : -1)) - (across * 0.5) + new Vec3(0, -0.3 * r.NextDouble(), 0)).Normalized() * (long1 * (0.6 + (0.4 * r.NextDouble())));
            double broad = long1 * (0.12 + (0.12 * r.NextDouble()));
            Vec3 root = i == 3 ? stem[i] - (leaf * 0.5) : stem[i];
            yield return Bar([.. Enumerable.Range(0, 9).Select(k => root + (leaf * (k / 8.0)))], k => 0.4 + (broad * Math.Sin(Math.PI * k / 8)), new Material(green * (float)(0.6 + (0.8 * r.NextDouble())), 0.1, 20), round: true);
        }
    }

    private Panel Sheet(Vec3 topMiddle, Vec3 along, double width, double height, Vector3 colour, Random r, bool folds)
    {
        NoiseField noise = new(r.Next(), 5);
        Vec3 down = along.Cross(new Vec3(0, 0, 1));
        if (down.Y > 0 && folds)
            down *= -1;
        float lit = (float)_light.Irradiance(topMiddle, new Vec3(0, 0, 1));
        double pitch = 18 + (30 * r.NextDouble());
        double printed = !folds && r.NextDouble() < 0.4 ? 6 + (8 * r.NextDouble()) : 0;
        return new Panel(_camera, topMiddle - (along * (width / 2)), along, down, width, height, (a, b, _) =>
        {
            float shade = folds
                ? 1 + (0.28f * (float)Math.Sin((a * 6.28 / pitch) + (2 * noise.At(a * 0.1, b * 0.05)))) + (0.1f * noise.At(a * 0.4, b * 0.3))
                : 1 + (0.05f * noise.At(a * 0.5, b * 0.5));
            bool ink = printed > 0 && b % printed < printed * 0.35 && noise.At(a * 6, Math.Floor(b / printed) * 31) > 0.1f;
            return colour * (lit * shade * (ink ? 0.3f : 1));
        });
    }

    private Tube Bar(Vec3[] points, Func<int, double> radius, Material m, bool round = false) => new(_camera, _light, points, radius, m, round);
}

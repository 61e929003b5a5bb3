using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>
/// Paints a built-up rod's reel. Its foremost edge, projected on the blank's axis carried straight on into the handle, is the front's station
/// whatever its kind, size and rounding: no part reaches farther (<see cref="Parts"/> can be asked).
/// </summary>
public sealed class BuiltReel
{
    private static readonly Vector3 Black = new(0.018f, 0.018f, 0.02f);
    private readonly SceneOptions _options;
    private readonly BuildOptions _build;
    private readonly ReelOptions _reel;
    private readonly RodBuild _rod;
    private readonly Random _random;
    private readonly Material _line;
    private readonly Material _body;
    private readonly Material _metal;
    private readonly Material _dark = new(Black, 0.35, 30);
    private readonly Material _face;
    private readonly double _slant;
    private readonly double _hollow;
    private readonly double _f;
    private readonly double _k;

    public BuiltReel(SceneOptions options, RodBuild rod)
    {
        (_options, _build, _rod) = (options, options.Build!, rod);
        _reel = _build.ReelShape;
        _random = new Random(unchecked((options.Seed * 5381) + 19));
        _line = new Material(options.LineColour * 0.8f, 0.1, 10);
        _body = new Material(_build.ReelColour, 0.2 + (0.6 * _random.NextDouble()), 40);
        _metal = new Material(_build.FittingColour, 0.8, 50);
        (_f, _k) = (rod.ReelFrontMm, _build.ReelScale);
        Random look = new(unchecked((options.Seed * 9973) + 41));
        _face = look.Next(6) switch { 0 => _dark, 1 => _line, 2 => _body, _ => _metal };
        (_slant, _hollow) = (0.5 * (look.NextDouble() - 0.5), 0.5 * (look.NextDouble() - 0.4));
    }

    /// <summary>One part: its centreline (stations, heights above the axis, towards the camera), radii and look.</summary>
    public sealed record Part(IReadOnlyList<(double S, double Height, double Z)> Points, Func<int, double> Radius, Material Look, bool Round)
    {
        /// <summary>A flat disc across the axis instead, about its one point.</summary>
        public bool IsFace { get; init; }
    }

    public IEnumerable<IPaint> All(SceneCamera camera, Lighting light) =>
        Parts().Select(p => p.IsFace ? Disc(p, camera, light) : (IPaint)new Tube(camera, light, [.. p.Points.Select(q => At(q.S, q.Height, q.Z))], p.Radius, p.Look, p.Round));

    private Panel Disc(Part face, SceneCamera camera, Lighting light)
    {
        (double s, double height, _) = face.Points[0];
        double r = face.Radius(0);
        Vec3 middle = At(s, height, 0);
        Vec3 up = (At(s, height + 1, 0) - middle).Normalized();
        Vec3 ahead = (At(s + 1, height, 0) - middle).Normalized();
        Vec3 near = new(0, 0, 1);
        Vector3 lit = light.Shade(face.Look, middle, ahead, (camera.Position - middle).Normalized());
        return new Panel(camera, middle - (up * r) - (near * r), up, near, 2 * r, 2 * r, (x, y, _) => lit * (float)(1 + (_slant * (x - r) / r) - (_hollow * (((x - r) * (x - r)) + ((y - r) * (y - r))) / (r * r)))) { IsRound = true };
    }

    public IEnumerable<Part> Parts() => _build.Reel switch
    {
        ReelKind.None => [],
        ReelKind.Casting => Casting(),
        _ => Spinning(),
    };

    private IEnumerable<Part> Spinning()
    {
        double height = _reel.StemMm * _k;
        double lip = _reel.LipMm * _k;
        double turn = 30 * (_random.NextDouble() - 0.5);
        double knob = _reel.KnobMm * _k;
        double front = _f - knob;
        Material shell = _random.NextDouble() < 0.5 ? _metal : _body;

        // Foot in the seat, stem, gear box.
        double stem = _f - (_reel.StemBackMm * _k);
        yield return Bar([(stem - (35 * _k), _build.GripMm * 0.8, 0), (Math.Min(stem + (35 * _k), _f - 4), _build.GripMm * 0.8, 0)], 3.2, _body);
        yield return Bar([(stem, 8, 0), (stem - (2 * _k), 0.65 * height, 0), (Math.Min(stem - (10 * _k), _f - (50 * _k)), height, 0)], 0.5 * _reel.StemWideMm * _k, _body);
        yield return Body(_f - (118 * _k), _f - (44 * _k), height, t => _k * (9 + (13 * Math.Sin(Math.PI * Math.Min(1, t + 0.15) / 1.3))), _body);
        switch (_reel.Spool)
        {
            case SpoolKind.Egg:
                double wide = Math.Max(lip, 19 * _k);
                foreach (Part part in Capped(Rounded(front - (62 * _k), front, height, t => wide * (0.8 + (0.2 * Math.Sin(Math.PI * t))), shell), front, _reel.RimMm * _k, shell))
                    yield return part;
                yield return Body(front - (34 * _k), front - (Math.Min(20, _reel.RimMm) * _k) - (3 * _k), height, _ => wide * 0.97, _line);
                break;
            case SpoolKind.Tapering:
                foreach (Part part in Capped(Rounded(_f - (64 * _k), front - (30 * _k), height, _ => 24 * _k, shell), front - (30 * _k), 3 * _k, shell))
                    yield return part;
                yield return Body(front - (36 * _k), front - (6 * _k), height, t => lip * (0.84 + (_reel.Narrows * (1 - t))), _line);
                foreach (Part part in Capped(Rounded(front - (7 * _k), front, height, _ => lip, _metal), front, Math.Min(_reel.RimMm, 7) * _k, _face))
                    yield return part;
                break;
            default:
                yield return Body(_f - (66 * _k), _f - (52 * _k), height, _ => 25 * _k, _body);
                foreach (Part part in Capped(Body(_f - (52 * _k), front - (32 * _k), height, t => _k * (24.5 - (1.5 * t)), shell), front - (32 * _k), 0, shell))
                    yield return part;
                yield return Body(front - (36 * _k), front - (8 * _k), height, _ => lip * 0.86, _line);
                foreach (Part part in Capped(Rounded(front - (9 * _k), front, height, _ => lip, _metal), front, Math.Min(_reel.RimMm, 9) * _k, _face))
                    yield return part;
                break;
        }

        if (knob > 0)
        {
            foreach (Part part in Capped(Rounded(_f - knob - (2 * _k), _f, height, _ => 0.52 * lip, _random.NextDouble() < 0.5 ? _dark : _metal), _f, Math.Min(_reel.RimMm * _k, knob), _face))
                yield return part;
        }

        if (_reel.Bail)
        {
            // From the rotor's arm over the spool and back: an arc before the spool, seen flat from the side.
            double top = height + (27 * _k);
            double low = height - (24 * _k);
            double out3 = 28 * _k;
            double reach = _f - 2 - (14 * _random.NextDouble() * _k);
            yield return Bar([(_f - (58 * _k), top, 0), (_f - (34 * _k), top + (2 * _k), 4)], 3.4 * _k, shell);
            yield return Bar([.. Enumerable.Range(0, 15).Select(i => Math.PI * i / 14).Select(a =>
                (_f - (34 * _k) + ((reach - _f + (34 * _k)) * Math.Sin(a)), ((top + low) / 2) + ((top - low) / 2 * Math.Cos(a)), 6 + (out3 * Math.Sin(a))))], 0.9 + (0.5 * _k), _metal);
        }

        yield return Bar([(_f - (85 * _k), height + 2, 22), (_f - (70 * _k) + turn, height + (20 * _k), 36), (_f - (62 * _k) + turn, height + (38 * _k), 40)], 3.5 * _k, _metal);
        yield return Bar([(_f - (64 * _k) + turn, height + (38 * _k), 45), (_f - (54 * _k) + turn, height + (44 * _k), 52)], 9 * _k, _dark);
    }

    private IEnumerable<Part> Casting()
    {
        double side = _reel.LipMm * 0.95 * _k;
        double middle = _reel.StemMm * _k;
        double back;
        yield return Bar([(_f - (70 * _k), _build.GripMm * 0.8, 0), (_f - (12 * _k), _build.GripMm * 0.8, 0)], 3, _metal);
        yield return Body(_f - (56 * _k), _f - (20 * _k), middle * 0.6, _ => 0.35 * middle, _body);
        switch (_reel.Casting)
        {
            case CastingBody.Round:
                back = _f - (2 * side);
                foreach (Part plate in Deep(Disc(_f - side, middle, side, _body)))
                    yield return plate;
                yield return Disc(_f - side, middle, side * 0.86, _metal);
                yield return Disc(_f - side, middle, side * 0.5, _body);
                break;
            case CastingBody.Box:
                back = _f - (78 * _k);
                foreach (Part end in Deep(Rounded(back, _f, middle, _ => 18 * _k, _body)))
                    yield return end;
                yield return Body(_f - (54 * _k), _f - (30 * _k), middle + (3 * _k), _ => 15 * _k, _line);
                break;
            default:
                back = _f - (82 * _k);
                double low = 11 + (4 * _random.NextDouble());
                foreach (Part half in Deep(Rounded(back, _f, middle - (4 * _k), t => _k * (low + ((19 - low) * Math.Pow(Math.Sin(Math.PI * Math.Pow(1 - t, 0.8)), 0.7))), _body)))
                    yield return half;
                yield return Body(_f - (52 * _k), _f - (34 * _k), middle + (2 * _k), _ => 12 * _k, _line);
                yield return Disc(_f - (44 * _k), middle - (4 * _k), 13 * _k, _metal);
                break;
        }

        // Drag star, crank and its two knobs, towards the camera.
        double at = (back + _f) / 2;
        double angle = Math.PI * _random.NextDouble();
        double arm = 30 * _k;
        double reach = Math.Min(arm * Math.Abs(Math.Cos(angle)), (_f - at) - (9 * _k)) * Math.Sign(Math.Cos(angle));
        double rise = arm * Math.Sin(angle);
        yield return Disc(at, middle, 9 * _k, _metal);
        yield return Bar([(at - reach, middle - rise, 34), (at + reach, middle + rise, 34)], 2.6 * _k, _metal);
        foreach (int end in new[] { -1, 1 })
            yield return Bar([(at + (end * reach) - 2, middle + (end * rise), 38), (at + (end * reach) + 2, middle + (end * rise), 46)], 6 * _k, _dark);
    }

    // A body's end as it stands about the spool's axis: discs one before the other along its rounding, the foremost with a look of its own.
    private IEnumerable<Part> Capped(Part body, double to, double rho, Material face)
    {
        yield return body;
        if (!_reel.Solid)
            yield break;
        double height = body.Points[0].Height;
        double radius = Enumerable.Range(0, body.Points.Count).Where(i => body.Points[i].S <= to - rho + 0.5).Select(body.Radius).Last();
        rho = Math.Min(rho, radius - 1);
        for (int k = 5; k >= 0; k--)
        {
            double behind = rho * k * k / 25;
            yield return Face(to - behind, height, RoundedMm(radius, rho, behind), k == 0 ? face : body.Look);
        }
    }

    private static Part Face(double at, double height, double radius, Material m) => new([(at, height, 0)], _ => radius, m, false) { IsFace = true };

    // The same from behind the rod's plane to before it, about as far to either side as the sides are high (chosen).
    private IEnumerable<Part> Deep(Part flat) =>
        _reel.Solid ? new[] { -0.8, -0.4, 0, 0.4, 0.8 }.Select(z => flat with { Points = [.. flat.Points.Select(p => (p.S, p.Height, p.Z + (z * _reel.LipMm * _k)))] }) : [flat];

    /// <summary>The radius at a distance behind a front rounded by rho.</summary>
    public static double RoundedMm(double radius, double rho, double behind)
    {
        rho = Math.Min(rho, radius);
        double d = Math.Clamp(rho - behind, 0, rho);
        return radius - rho + Math.Sqrt(Math.Max(0, (rho * rho) - (d * d)));
    }

    private Vec3 At(double s, double height, double z)
    {
        // Straight on along the tangent at the front: a reel does not bend with the blank.
        Vec2 away = _rod.Blank.Outward(_f) * (_options.Side == Tracing.BendSide.Outside ? 1 : -1);
        return Vec3.InPlane(_rod.Blank.Point(_f) + (_rod.Blank.Tangent(_f) * (s - _f)) + (away * height), z);
    }

    private static Part Body(double from, double to, double height, Func<double, double> radius, Material m)
    {
        int n = Math.Max(4, (int)Math.Ceiling(Math.Abs(to - from) / 1.5));
        return new Part([.. Enumerable.Range(0, n + 1).Select(i => (from + ((to - from) * i / n), height, 0.0))], i => radius(i / (double)n), m, false);
    }

    // Rounded at the front by the rim's radius, at the back by 3 mm; finer steps where the rounding is.
    private Part Rounded(double from, double to, double height, Func<double, double> radius, Material m)
    {
        double rho = Math.Min(_reel.RimMm * _k, to - from);
        double[] behind = [.. Enumerable.Range(0, 17).Select(i => (to - from) * Math.Pow(1 - (i / 16.0), 1)).Where(d => d > rho), .. Enumerable.Range(0, 13).Select(i => rho * (1 - Math.Sin(Math.PI / 2 * i / 12)))];
        return new Part(
            [.. behind.Select(d => (to - d, height, 0.0))],
            i => Math.Max(0.4, Math.Min(RoundedMm(radius(1 - (behind[i] / (to - from))), rho, behind[i]), RoundedMm(radius(0), 3 * _k, to - from - behind[i] + 0.6))),
            m,
            false);
    }

    private static Part Disc(double middle, double height, double radius, Material m)
    {
        const int n = 24;
        return new Part(
            [.. Enumerable.Range(0, n + 1).Select(i => (middle - (radius * Math.Cos(Math.PI * i / n)), height, 0.0))], i => Math.Max(0.3, radius * Math.Sin(Math.PI * i / n)), m, false);
    }

    private static Part Bar(IReadOnlyList<(double S, double Height, double Z)> points, double radius, Material m) => new(points, _ => radius, m, true);
}

using System.Numerics;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>The wall of a wide scene and what hangs on it or stands before it, all behind the rod.</summary>
public sealed class Backdrop
{
    private readonly SceneOptions _o;
    private readonly BackdropOptions _b;
    private readonly SceneCamera _camera;
    private readonly Lighting _light;
    private readonly RodBuild _rod;
    private readonly Random _random;

    public Backdrop(SceneOptions options, SceneCamera camera, Lighting light, RodBuild rod)
    {
        (_o, _b, _camera, _light, _rod) = (options, options.Backdrop!, camera, light, rod);
        _random = new Random(unchecked((options.Seed * 6421) + 37));
    }

    private double Left => Math.Min(0, _rod.Tip.X) - 150;

    private double Span => Math.Abs(_rod.Tip.X) + 300;

    private double Top => Enumerable.Range(0, 40).Max(i => _rod.Blank.Point(i * _rod.Blank.LengthMm / 39).Y);

    private double WallZ => -_o.WallMm;

    public Panel Wall()
    {
        WidePattern pattern = new(_o.Seed, _b with { TurnDeg = _b.TurnDeg + BackdropExtras.AlongDeg(_b, _rod) });
        Vec3 origin = new(-9000, 7000, WallZ);
        return new Panel(_camera, origin, new Vec3(1, 0, 0), new Vec3(0, -1, 0), 18000, 14000, (a, b, px) =>
            pattern.At(a, b, px) * (float)_light.Irradiance(new Vec3(origin.X + a, origin.Y - b, origin.Z), new Vec3(0, 0, 1)));
    }

    /// <summary>Battens, posters, tools and rods at the wall.</summary>
    public IEnumerable<IPaint> AtWall()
    {
        foreach (IPaint p in Many(_b.Battens, Batten).Concat(Many(_b.Posters, Poster)).Concat(Many(_b.WallTools, WallTool)).Concat(Many(_b.Lamps, Lamp)).Concat(Many(_b.Plants, Plant)).Concat(Rack()).Concat(new BackdropExtras(_o, _camera, _light, _rod).All()))
            yield return p;
    }

    /// <summary>What stands on the bench and reaches in behind the rod.</summary>
    public IEnumerable<IPaint> BeforeWall() => [.. Many(_b.BenchThings, BenchThing), .. SecondRod(), .. Many(_b.Arms, Arm)];

    private static IEnumerable<IPaint> Many(int count, Func<IEnumerable<IPaint>> make) => Enumerable.Range(0, count).SelectMany(_ => make());

    private double Between(double a, double b) => a + ((b - a) * _random.NextDouble());

    private Vec3 Somewhere(double z) => new(Left + (Span * _random.NextDouble()), Between(RodBuild.BenchY + 60, Top + 250), z);

    private IEnumerable<IPaint> Batten()
    {
        double angle = _random.Next(3) switch { 0 => 0, 1 => Math.PI / 2, _ => Between(0, Math.PI) };
        Vec3 along = new(Math.Cos(angle), Math.Sin(angle), 0);
        double width = Between(8, 110);
        double length = Between(600, 6000);
        Vec3 start = Somewhere(WallZ + Between(1, Math.Min(60, _o.WallMm * 0.4))) - (along * (length / 2));
        Vector3 colour = Collage.Colour(_random);
        if (_random.NextDouble() < 0.4)
            yield return new Tube(_camera, _light, [.. Enumerable.Range(0, 21).Select(i => start + (along * (length * i / 20)))], _ => width / 3, new Material(colour, _random.NextDouble(), 40));
        else
            yield return Board(start, along, width, length, (a, b) => colour);
    }

    private Panel Board(Vec3 start, Vec3 along, double width, double length, Func<double, double, Vector3> colour)
    {
        Vec3 down = new(along.Y, -along.X, 0);
        float lit = (float)_light.Irradiance(start, new Vec3(0, 0, 1));
        return new Panel(_camera, start, along, down, length, width, (a, b, _) => colour(a, b) * lit);
    }

    private IEnumerable<IPaint> Poster()
    {
        double width = Between(120, 1300);
        double height = width * Between(0.5, 1.5);
        double angle = _random.NextDouble() < 0.6 ? 0 : Between(-0.12, 0.12);
        Vec3 along = new(Math.Cos(angle), Math.Sin(angle), 0);
        Vec3 at = Somewhere(WallZ + Between(2, 20)) + new Vec3(-width / 2, height / 2, 0);
        Collage picture = new(_random.Next(), 280, 220, _random.Next(3, 90));
        double frame = _random.NextDouble() < 0.6 ? Between(4, 45) : 0;
        double bars = _random.NextDouble() < 0.3 ? Between(8, 40) : 0;
        Vector3 rim = Collage.Colour(_random);
        float glow = (float)(_random.NextDouble() < 0.25 ? Between(1.2, 2.2) : 1);
        yield return Board(at, along, height, width, Painted);

        Vector3 Painted(double a, double b)
        {
            bool bar = bars > 0 && (Math.Abs(a - (width / 2)) < bars / 2 || Math.Abs(b - (height / 2)) < bars / 2);
            return bar || Math.Min(Math.Min(a, width - a), Math.Min(b, height - b)) < frame ? rim : picture.At(a / width, b / height) * glow;
        }
    }

    private IEnumerable<IPaint> WallTool()
    {
        Vec3 top = Somewhere(WallZ + 18);
        double lean = Between(-0.3, 0.3) * _random.Next(2);
        Vec3 down = new Vec3(lean, -1, 0).Normalized();
        double handle = Between(60, 160);
        double shaft = Between(60, 260);
        yield return Bar([top, top + (down * (handle * 0.5)), top + (down * handle)], i => i == 1 ? 16 : 12, Collage.Colour(_random));
        yield return Bar([top + (down * handle), top + (down * (handle + shaft))], _ => Between(2, 6), new Vector3(0.35f));
        if (_random.NextDouble() < 0.5)
        {
            Vec3 head = top + (down * (handle + shaft));
            yield return Bar([head - new Vec3(Between(10, 60), 0, 0), head + new Vec3(Between(10, 60), 0, 0)], _ => 11, new Vector3(0.2f));
        }
    }

    private IEnumerable<IPaint> Lamp()
    {
        Vec3 at = Somewhere(WallZ + 60);
        at = at with { Y = Top + Between(-100, 350) };
        yield return Bar([at with { Y = at.Y + 1500 }, at with { Y = at.Y + 60 }], _ => 4, new Vector3(0.03f));
        yield return new Glow(_camera, at, Between(30, 80), new Vector3(1, 0.9f, (float)Between(0.6, 1)) * (float)Between(1, 2.5));
        yield return Bar([at with { Y = at.Y + 110 }, at with { Y = at.Y + 40 }], i => i == 0 ? 20 : 85, Collage.Colour(_random));
    }

    private IEnumerable<IPaint> Plant()
    {
        Vec3 root = Somewhere(WallZ + Between(20, Math.Max(21, _o.WallMm * 0.6)));
        if (_random.NextDouble() < 0.6)
            root = root with { Y = RodBuild.BenchY };
        Vector3 green = new Vector3((float)Between(0.03, 0.2), (float)Between(0.1, 0.4), (float)Between(0.01, 0.1)) * (float)Between(0.3, 1.2);
        for (int stem = _random.Next(2, 6); stem > 0; stem--)
        {
            Vec3 grow = new Vec3(Between(-0.9, 0.9), Between(0.2, 1), 0) * Between(200, 800);
            Vec3 bend = new(Between(-200, 200), Between(-200, 50), 0);
            Vec3[] path = [.. Enumerable.Range(0, 13).Select(i => i / 12.0).Select(t => root + (grow * t) + (bend * (t * t)))];
            yield return new Tube(_camera, _light, path, i => 3 - (i * 0.15), new Material(green * 0.7f));
            for (int i = 2; i < 13; i++)
            {
                Vec3 leaf = new Vec3(Between(-1, 1), Between(-0.7, 0.7), 0) * Between(25, 90);
                double broad = Between(3, 14);
                yield return new Tube(_camera, _light, [.. Enumerable.Range(0, 9).Select(k => path[i] + (leaf * (k / 8.0)))], k => 0.4 + (broad * Math.Sin(Math.PI * k / 8)), new Material(green * (float)Between(0.6, 1.5), 0.1, 20), round: true);
            }
        }
    }

    private IEnumerable<IPaint> Rack()
    {
        double x = Left + (Span * _random.NextDouble());
        for (int i = 0; i < _b.RackRods; i++)
        {
            double lean = (_b.RackLeanDeg + Between(-4, 4)) * Math.PI / 180;
            Vec3 along = new(Math.Sin(lean), Math.Cos(lean), 0);
            Vec3 butt = new Vec3(x, Between(RodBuild.BenchY - 200, RodBuild.BenchY + 500), WallZ + 25) - (along * (_random.NextDouble() < 0.5 ? 0 : Between(0, 500)));
            x += Between(40, 350) * (_random.NextDouble() < 0.15 ? -4 : 1);
            x = Left + ((x - Left + Span) % Span);
            if (_random.NextDouble() < 0.2)
                (butt, along) = (butt + (along * 1800), along * -1);
            Vec3 tip = butt + (along * 2000);
            foreach (Vec3 lamp in _light.Lamps)
                yield return new BarShadow(_camera, _light, lamp, _o.WallMm, [butt, tip], k => 8 - (6 * k));
            yield return new ShadowMask(_o, _light);
            foreach (IPaint p in new StandingRod(_camera, _light, _random).At(butt, along))
                yield return p;
        }
    }

    private IEnumerable<IPaint> SecondRod()
    {
        if (_b.SecondRodDeg is not { } turn)
            return [];
        double s = _rod.Blank.LengthMm;
        (DeflectScan.Geometry.Vec2 a, DeflectScan.Geometry.Vec2 b) = (_rod.Blank.Point(0.2 * s), _rod.Blank.Point(0.8 * s));
        double angle = Math.Atan2(b.Y - a.Y, b.X - a.X) + (turn * Math.PI / 180);
        Vec3 along = new(Math.Cos(angle), Math.Sin(angle), 0);
        Vec3 middle = Vec3.InPlane((a + b) / 2, -Math.Min(_o.WallMm * 0.7, Between(30, 150))) + new Vec3(Between(-150, 150), Between(-200, 200), 0);
        return new StandingRod(_camera, _light, _random).At(middle - (along * 1000), along);
    }

    private IEnumerable<IPaint> BenchThing()
    {
        double z = -Between(60, Math.Max(61, Math.Min(400, _o.WallMm - 20)));
        double x = Left - 100 + ((Span + 200) * _random.NextDouble());
        double width = Between(20, 260);
        double height = Between(20, 320);
        Vector3 colour = Collage.Colour(_random);
        switch (_random.Next(4))
        {
            case 0:
                Collage label = new(_random.Next(), 120, 120, 20);
                yield return Board(new Vec3(x, RodBuild.BenchY + height, z), new Vec3(1, 0, 0), height, width, (a, b) => label.At(a / width, b / height));
                break;
            case 1:
                yield return Board(new Vec3(x, RodBuild.BenchY + height, z), new Vec3(1, 0, 0), height, width, (_, _) => colour);
                break;
            case 2:
                double r = Between(10, 60);
                yield return Bar([new(x, RodBuild.BenchY, z), new(x, RodBuild.BenchY + (height * 0.8), z), new(x, RodBuild.BenchY + height, z)], i => i == 2 ? r * 0.6 : r, colour);
                break;
            default:
                double lying = Between(5, 14);
                yield return Bar([new(x, RodBuild.BenchY + lying, z), new(x + (width * 0.5), RodBuild.BenchY + lying, z), new(x + width, RodBuild.BenchY + lying, z)], i => i == 0 ? lying : lying * 0.6, colour);
                break;
        }
    }

    private IEnumerable<IPaint> Arm()
    {
        double z = -Math.Min(_o.WallMm * 0.8, Between(60, 200));
        Vec3 hand = Somewhere(z);
        double angle = Between(0, 2 * Math.PI);
        Vec3 out3 = new(Math.Cos(angle), -Math.Abs(Math.Sin(angle)), 0);
        Vector3 skin = new Vector3(0.55f, 0.32f, 0.22f) * (float)Between(0.15, 1.2);
        NoiseField folds = new(_random.Next(), 4);
        Material sleeve = new(Collage.Colour(_random)) { Along = mm => 1 + (0.25 * folds.At(mm * 0.6, 5)) };
        Vec3[] arm = [.. Enumerable.Range(0, 41).Select(i => hand + (out3 * (90 + (40.0 * i))))];
        yield return new Tube(_camera, _light, arm, i => 44 + (0.6 * i), sleeve);
        yield return new Tube(_camera, _light, [hand + (out3 * 95), hand + (out3 * 60), hand, hand - (out3 * 20)], i => i switch { 0 => 27, 1 => 30, 2 => 42, _ => 30 }, new Material(skin), round: true);
        Vec3 across = new(-out3.Y, out3.X, 0);
        for (int f = 0; f < 4; f++)
            yield return new Tube(_camera, _light, [hand + (across * ((f * 19) - 28)), hand - (out3 * Between(50, 95)) + (across * ((f * 21) - 32))], _ => 9.5, new Material(skin * (float)Between(0.85, 1.1)), round: true);
    }

    private Tube Bar(Vec3[] points, Func<int, double> radius, Vector3 colour) => new(_camera, _light, points, radius, new Material(colour, 0.3, 30));
}

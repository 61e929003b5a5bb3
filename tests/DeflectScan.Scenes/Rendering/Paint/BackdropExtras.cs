using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Things at the wall laid where they mislead: perforated boards, edges along the blank, frames that end at butt or tip.</summary>
public sealed class BackdropExtras(SceneOptions options, SceneCamera camera, Lighting light, RodBuild rod)
{
    private readonly BackdropOptions _b = options.Backdrop!;
    private readonly Random _random = new(unchecked((options.Seed * 9733) + 61));

    /// <summary>The pattern's turn in the wall, degrees, for one that lies along the blank at a share of its length; 0 where none is asked for.</summary>
    public static double AlongDeg(BackdropOptions b, RodBuild rod)
    {
        if (b.AlongBlankAt is not { } share)
            return 0;

        // Rows run along the pattern's first side; the wall's second side points down.
        return -rod.Blank.Angle(share * rod.Blank.LengthMm) * 180 / Math.PI;
    }

    public IEnumerable<IPaint> All() =>
    [
        .. Enumerable.Range(0, _b.Perforated).Select(_ => Perforated()), .. Enumerable.Range(0, _b.BattensAlong).Select(_ => Batten()),
        .. Enumerable.Range(0, _b.EndFrames).SelectMany(_ => Frame()),
    ];

    // Where a point behind the rod must stand at the wall to be seen beside a place of the blank.
    private Vec3 Behind(Vec2 mm, double beforeWall)
    {
        double z = -options.WallMm + Math.Min(beforeWall, options.WallMm * 0.4);
        Vec3 eye = camera.Position;
        return eye + ((Vec3.InPlane(mm) - eye) * ((eye.Z - z) / eye.Z));
    }

    private double Between(double a, double b) => a + ((b - a) * _random.NextDouble());

    private float Lit(Vec3 at) => (float)light.Irradiance(at, new Vec3(0, 0, 1));

    private Panel Perforated()
    {
        double s = rod.Blank.LengthMm * Between(0.2, 1);
        double width = Between(250, 1200);
        double height = Between(200, 700);
        double angle = _random.NextDouble() < 0.5 ? 0 : Between(-0.4, 0.4);
        Vec3 along = new(Math.Cos(angle), Math.Sin(angle), 0);
        Vec3 down = new(along.Y, -along.X, 0);
        Vec3 corner = Behind(rod.Blank.Point(s) + new Vec2(Between(-100, 100), Between(-100, 100)), 6) - (along * (width * Between(0.3, 0.7))) - (down * (height * Between(0.3, 0.7)));
        Vector3 board = Collage.Colour(_random) + new Vector3(0.05f);
        float lit = Lit(corner);
        return new Panel(camera, corner, along, down, width, height, (a, b, px) => Dots.Over(board, Dots.Hole(board, _b), a, b, px, _b) * lit);
    }

    private Panel Batten()
    {
        double s = rod.Blank.LengthMm * Between(0.15, 1);
        Vec2 t = rod.Blank.Tangent(s);
        double angle = Math.Atan2(t.Y, t.X) + Between(-0.07, 0.07);
        Vec3 along = new(Math.Cos(angle), Math.Sin(angle), 0);
        double width = Between(6, 70);
        double length = Between(300, 1800);
        Vec3 start = Behind(rod.Blank.Point(s) + (rod.Blank.Outward(s) * Between(-90, 60)), Between(2, 30)) - (along * (length * Between(0.2, 0.8)));
        Vector3 colour = Collage.Colour(_random);
        float lit = Lit(start);
        return new Panel(camera, start, along, new Vec3(along.Y, -along.X, 0), length, width, (_, _, _) => colour * lit);
    }

    // A window's or a picture's frame whose edge passes within 60 mm of where the blank ends or begins.
    private IEnumerable<IPaint> Frame()
    {
        Vec2 end = rod.Blank.Point(_random.NextDouble() < 0.6 ? rod.Blank.LengthMm : options.VisibleFromMm + Between(-150, 100));
        double width = Between(200, 1000);
        double height = width * Between(0.6, 1.5);
        Vec3 at = Behind(end + new Vec2(Between(-60, 60), Between(-60, 60)), 12);
        Vec3 corner = at - new Vec3(_random.NextDouble() < 0.5 ? width : width * _random.NextDouble(), 0, 0) + new Vec3(0, _random.NextDouble() < 0.5 ? height : height * _random.NextDouble(), 0);
        double rim = Between(8, 60);
        double bar = _random.NextDouble() < 0.5 ? Between(10, 40) : 0;
        Vector3 frame = Collage.Colour(_random);
        Collage picture = new(_random.Next(), 160, 140, _random.Next(2, 30));
        float lit = Lit(corner) * (float)(_random.NextDouble() < 0.3 ? Between(1.2, 2) : 1);
        yield return new Panel(camera, corner, new Vec3(1, 0, 0), new Vec3(0, -1, 0), width, height, (a, b, _) =>
        {
            bool solid = Math.Min(Math.Min(a, width - a), Math.Min(b, height - b)) < rim || (bar > 0 && (Math.Abs(a - (width / 2)) < bar / 2 || Math.Abs(b - (height / 2)) < bar / 2));
            return (solid ? frame : picture.At(a / width, b / height)) * lit;
        });
    }
}

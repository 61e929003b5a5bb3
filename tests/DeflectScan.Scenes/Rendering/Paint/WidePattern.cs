using System.Numerics;
using DeflectScan.Reporting.Cards;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Colour of a wall by place: one function a pattern, smoothed over a pixel where it has edges.</summary>
public sealed class WidePattern
{
    private readonly BackdropOptions _b;
    private readonly NoiseField _fine;
    private readonly NoiseField _coarse;
    private readonly Collage? _mural;
    private readonly double _sin;
    private readonly double _cos;

    public WidePattern(int seed, BackdropOptions backdrop)
    {
        _b = backdrop;
        _fine = new NoiseField(seed + 1, 4);
        _coarse = new NoiseField(seed + 2, 7);
        _mural = backdrop.Pattern == Pattern.Mural ? new Collage(seed + 77, 900, 700, 220) : null;
        (_sin, _cos) = Math.SinCos(backdrop.TurnDeg * Math.PI / 180);
    }

    /// <summary>Linear colour at a place of the wall.</summary>
    /// <param name="across">mm to the right.</param>
    /// <param name="down">mm downwards.</param>
    /// <param name="px">Size of a pixel, mm.</param>
    public Vector3 At(double across, double down, double px)
    {
        double a = ((across * _cos) + (down * _sin)) / _b.Scale;
        double b = ((down * _cos) - (across * _sin)) / _b.Scale;
        px /= _b.Scale;
        Vector3 base3 = Base(a, b, px);
        float fade = (float)Math.Clamp(3 / px, 0.2, 1);
        float grain = (float)_b.Grain * ((0.12f * fade * _fine.At(a * 1.9, b * 1.9)) + (0.1f * _coarse.At(across * 0.11, down * 0.11)));
        return base3 * Math.Max(0.15f, 1 + grain);
    }

    private Vector3 Base(double a, double b, double px) => _b.Pattern switch
    {
        Pattern.Blocks => Course(a, b, px, 390, 190, 10, 0.5),
        Pattern.Bricks => Course(a, b, px, 225, 75, 10, 0.5),
        Pattern.Tiles => Course(a, b, px, 150, 150, 4, 0),
        Pattern.Panels => Course(a, b, px, 2400, 420, 14, 0),
        Pattern.Planks => Planks(a, b, px, 115),
        Pattern.Wood => Planks(a, b, px, 900),
        Pattern.Pegboard => Vector3.Lerp(_b.ColourC, _b.ColourA, Pegs(a, b, px)),
        Pattern.Gravel => Mix(Sharper(_coarse.At(a * 1.2, b * 1.2), 2.2f), Sharper(_fine.At(a * 2.6, b * 2.6), 1.5f)),
        Pattern.Stone => Mix(Sharper(_coarse.At(a * 0.18, b * 0.25), 3), Vein(a, b)),
        Pattern.Corrugated => Vector3.Lerp(_b.ColourB, _b.ColourA, 0.5f + (0.5f * (float)Math.Sin(a * 2 * Math.PI / 76))) * (1 + (0.3f * (float)Math.Cos(a * 2 * Math.PI / 76))),
        Pattern.Curtain => Vector3.Lerp(_b.ColourB, _b.ColourA, 0.5f + (0.5f * (float)Math.Sin((a * 2 * Math.PI / 130) + (2.5 * _coarse.At(a * 0.02, b * 0.015))))),
        Pattern.Wallpaper => Paper(a, b, px),
        Pattern.Foliage => Mix(Sharper(_coarse.At(a * 0.5, b * 0.5), 2.5f), Sharper(_fine.At(a * 0.7, b * 0.45), 2.5f)),
        Pattern.Grass => Mix(Sharper(_fine.At(a * 1.4, b * 0.12), 1.6f), Sharper(_coarse.At(a * 0.5, b * 0.06), 1.6f)),
        Pattern.Sky => Vector3.Lerp(Vector3.Lerp(_b.ColourA, _b.ColourB, (float)Math.Clamp(b / 14000, 0, 1)), new Vector3(0.85f), Math.Clamp(0.6f * _coarse.At(a * 0.02, b * 0.04), 0, 1)),
        Pattern.Stripes => Stripes(a, px),
        Pattern.Fabric => Vector3.Lerp(_b.ColourA, _b.ColourB, 0.5f + (0.25f * (float)(Math.Sin(a * 0.9) + Math.Sin(b * 0.9)) * (float)Math.Clamp(2 / px, 0, 1)) + (0.3f * _coarse.At(a * 0.05, b * 0.05))),
        Pattern.Dots => Dots.Over(_b.ColourA, Dots.Hole(_b.ColourA, _b), a * _b.Scale, b * _b.Scale, px * _b.Scale, _b),
        Pattern.Mural => _mural!.At(a / 3600, b / 2800),
        _ => Vector3.Lerp(_b.ColourA, _b.ColourB, Math.Clamp(0.5f + (0.5f * _coarse.At(a * 0.15, b * 0.15)), 0, 1)),
    };

    private Vector3 Mix(float ab, float c) => Vector3.Lerp(Vector3.Lerp(_b.ColourA, _b.ColourB, ab), _b.ColourC, 0.6f * c);

    private static float Sharper(float v, float by) => Math.Clamp(0.5f + (0.5f * by * v), 0, 1);

    private float Vein(double a, double b)
    {
        float v = Math.Abs(_coarse.At((a * 0.07) + 200, (b * 0.07) + 90));
        return v < 0.05f ? 1 - (v / 0.05f) : 0;
    }

    // Courses of blocks, each second one shifted, with joints of the third colour.
    private Vector3 Course(double a, double b, double px, double wide, double high, double joint, double shift)
    {
        double row = Math.Floor(b / high);
        double along = a + (((long)row & 1) == 0 ? 0 : shift * wide);
        double column = Math.Floor(along / wide);
        double edge = Math.Min(Math.Min(along - (column * wide), ((column + 1) * wide) - along), Math.Min(b - (row * high), ((row + 1) * high) - b)) - (joint / 2);
        float mortar = (float)Math.Clamp(0.5 - (edge / Math.Max(px, 1.2)), 0, 1);
        Vector3 own = Vector3.Lerp(_b.ColourA, _b.ColourB, Math.Clamp(0.5f + (0.6f * _coarse.At(column * 37.7, row * 53.3)), 0, 1));
        return Vector3.Lerp(own, _b.ColourC, mortar);
    }

    private Vector3 Planks(double a, double b, double px, double wide)
    {
        double plank = Math.Floor(b / wide);
        double edge = Math.Min(b - (plank * wide), ((plank + 1) * wide) - b);
        float seam = (float)Math.Clamp(0.5 - ((edge - 1.5) / Math.Max(px, 0.8)), 0, 1);
        float grain = Sharper(_coarse.At((a * 0.07) + (plank * 91), (b * 2) + (8 * _coarse.At(a * 0.01, b * 0.03))), 1.3f);
        Vector3 own = Vector3.Lerp(_b.ColourA, _b.ColourB, Math.Clamp(grain + (0.3f * _coarse.At(9, plank * 71.3)), 0, 1));
        return Vector3.Lerp(own, _b.ColourC, seam);
    }

    private static float Pegs(double a, double b, double px)
    {
        const double pitch = 25.4;
        double x = a - (Math.Round(a / pitch) * pitch);
        double y = b - (Math.Round(b / pitch) * pitch);
        return 1 - (float)Math.Clamp(((3.2 - Math.Sqrt((x * x) + (y * y))) / px) + 0.5, 0, 1);
    }

    private Vector3 Paper(double a, double b, double px)
    {
        const double pitch = 160;
        double row = Math.Floor(b / pitch);
        double x = a - (((long)row & 1) * pitch / 2);
        x -= Math.Round(x / pitch) * pitch;
        double y = b - ((row + 0.5) * pitch);
        double angle = Math.Atan2(y, x);
        double radius = 35 * (1 + (0.5 * Math.Cos(5 * angle)));
        float inside = (float)Math.Clamp(((radius - Math.Sqrt((x * x) + (y * y))) / px) + 0.5, 0, 1);
        float heart = (float)Math.Clamp(((9 - Math.Sqrt((x * x) + (y * y))) / px) + 0.5, 0, 1);
        return Vector3.Lerp(Vector3.Lerp(_b.ColourA, _b.ColourB, inside), _b.ColourC, heart);
    }

    private Vector3 Stripes(double a, double px)
    {
        double at = a / 60;
        double stripe = Math.Floor(at);
        double edge = Math.Min(at - stripe, stripe + 1 - at) * 60;
        float own = ((long)stripe % 3 + 3) % 3;
        Vector3 here = own switch { 0 => _b.ColourA, 1 => _b.ColourB, _ => _b.ColourC };
        return Vector3.Lerp((_b.ColourA + _b.ColourB) / 2, here, (float)Math.Clamp(0.5 + (edge / px), 0, 1));
    }
}

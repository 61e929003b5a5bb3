using System.Numerics;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Dots or holes in rows, with a rim that is dark on the one side and bright on the other, as a lamp from above leaves a hole's.</summary>
public static class Dots
{
    /// <summary>Colour of a hole: darker than a bright board, else bright.</summary>
    public static Vector3 Hole(Vector3 board, BackdropOptions b)
    {
        float grey = (board.X + board.Y + board.Z) / 3;
        return grey > 0.12f && b.DotRim < 0.75 ? board * 0.12f : Vector3.Lerp(board, new Vector3(0.8f), 0.85f);
    }

    public static Vector3 Over(Vector3 board, Vector3 hole, double a, double b, double px, BackdropOptions o)
    {
        double row = Math.Round(b / o.DotPitchMm);
        double shift = o.DotsStaggered && ((long)row & 1) != 0 ? o.DotPitchMm / 2 : 0;
        double x = a - shift;
        x -= Math.Round(x / o.DotPitchMm) * o.DotPitchMm;
        double y = b - (row * o.DotPitchMm);
        double far = Math.Sqrt((x * x) + (y * y));
        double radius = o.DotMm / 2;
        if (far > radius + 1.2 + px)
            return board;
        float inside = (float)Math.Clamp(((radius - far) / px) + 0.5, 0, 1);
        float rim = (float)(Math.Clamp(1 - (Math.Abs(far - radius) / Math.Max(0.8, px)), 0, 1) * o.DotRim * 0.45 * Math.Sign(y) * Math.Min(1, Math.Abs(y) / radius));
        return Vector3.Lerp(board, hole, inside) * (1 + rim);
    }
}

using DeflectScan.Geometry;

namespace DeflectScan.Reporting.Drawing;

/// <summary>An upright rectangle on a picture, px, y down.</summary>
internal readonly record struct Box(Vec2 Centre, double Width, double Height)
{
    public double Left => Centre.X - (Width / 2);

    public double Right => Centre.X + (Width / 2);

    public double Top => Centre.Y - (Height / 2);

    public double Bottom => Centre.Y + (Height / 2);

    public Box Grown(double by) => new(Centre, Width + (2 * by), Height + (2 * by));

    public bool Overlaps(Box other) =>
        Left < other.Right && other.Left < Right && Top < other.Bottom && other.Top < Bottom;

    /// <summary>By how much this box sticks out of another, px; 0 inside.</summary>
    public double Outside(Box frame) =>
        Math.Max(0, frame.Left - Left) + Math.Max(0, Right - frame.Right) + Math.Max(0, frame.Top - Top) + Math.Max(0, Bottom - frame.Bottom);

    /// <summary>Whether a segment meets this box (clipping after Liang and Barsky, 1984).</summary>
    public bool Meets(Vec2 a, Vec2 b) =>
        Math.Min(a.X, b.X) <= Right && Math.Max(a.X, b.X) >= Left && Math.Min(a.Y, b.Y) <= Bottom && Math.Max(a.Y, b.Y) >= Top
        && Clip(a, b) is not null;

    /// <summary>Where the segment from <paramref name="from"/> towards the box's centre enters it; the centre when it starts inside.</summary>
    public Vec2 Entry(Vec2 from) => Clip(from, Centre) is var t and > 0 ? Vec2.Lerp(from, Centre, t.Value) : Centre;

    private double? Clip(Vec2 a, Vec2 b)
    {
        (double enter, double leave) = (0, 1);
        Vec2 d = b - a;
        return Cut(-d.X, a.X - Left) && Cut(d.X, Right - a.X) && Cut(-d.Y, a.Y - Top) && Cut(d.Y, Bottom - a.Y) ? enter : null;

        bool Cut(double p, double q)
        {
            if (p == 0)
                return q >= 0;
            double t = q / p;
            if (p < 0)
                enter = Math.Max(enter, t);
            else
                leave = Math.Min(leave, t);
            return enter <= leave;
        }
    }
}

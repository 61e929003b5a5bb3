using System.Numerics;
using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>What a flat surface looks like at a point of it.</summary>
/// <param name="across">mm from its origin along its first side.</param>
/// <param name="down">mm along its second side.</param>
/// <param name="pixelMm">Size of a pixel there, for smoothing edges.</param>
public delegate Vector3 SurfaceColour(double across, double down, double pixelMm);

/// <summary>A flat rectangle in space, seen exactly: each pixel's ray meets its plane. Edges are smoothed over a pixel.</summary>
public class Panel : ICover
{
    private readonly double[] _h = new double[9];
    private readonly double _width;
    private readonly double _height;
    private readonly (int Left, int Right) _columns;
    private readonly SurfaceColour _colour;
    private readonly double _rayPx;
    private readonly CameraModel _lens;

    /// <param name="camera">The camera.</param>
    /// <param name="origin">A corner.</param>
    /// <param name="across">Unit direction of the first side.</param>
    /// <param name="down">Unit direction of the second side.</param>
    /// <param name="width">Length of the first side, mm.</param>
    /// <param name="height">Length of the second side, mm.</param>
    /// <param name="colour">Its finished colour, light included.</param>
    public Panel(SceneCamera camera, Vec3 origin, Vec3 across, Vec3 down, double width, double height, SurfaceColour colour)
    {
        (_width, _height, _colour) = (width, height, colour);
        _lens = camera.Lens;
        _rayPx = 1 / camera.Lens.FocalPx;
        Vec3 normal = across.Cross(down);
        Vec3 o = origin - camera.Position;
        double n0 = normal.Dot(o);

        // The ray d = right x + down y + forward meets the plane at lambda d with lambda = n.o / n.d; (lambda d - o) on both sides.
        Vec3[] axes = [camera.Right, camera.Down, camera.Forward];
        for (int k = 0; k < 3; k++)
        {
            double nd = normal.Dot(axes[k]);
            _h[k] = (across.Dot(axes[k]) * n0) - (across.Dot(o) * nd);
            _h[3 + k] = (down.Dot(axes[k]) * n0) - (down.Dot(o) * nd);
            _h[6 + k] = nd;
        }

        // A corner far outside the view says nothing: the lens polynomial folds back there.
        Vec2[] corners = [.. Corners(origin, across * width, down * height).Where(c => IsNearView(camera, c)).Select(camera.Project)];
        bool whole = corners.Length == 4;
        RowsPx = whole ? (corners.Min(c => c.Y) - 2, corners.Max(c => c.Y) + 2) : (0, camera.HeightPx);
        _columns = whole
            ? (Math.Max(0, (int)(corners.Min(c => c.X) - 3)), Math.Min(camera.WidthPx - 1, (int)(corners.Max(c => c.X) + 3)))
            : (0, camera.WidthPx - 1);
    }

    public (double Top, double Bottom) RowsPx { get; }

    /// <summary>The circle about its middle alone.</summary>
    public bool IsRound { get; init; }

    public void Paint(Canvas canvas)
    {
        int top = Math.Max(canvas.Top, (int)RowsPx.Top);
        int bottom = Math.Min(canvas.Bottom - 1, (int)RowsPx.Bottom);
        for (int y = top; y <= bottom; y++)
        {
            (Vec2 dx, Vec2 dy, double acrossPx, double downPx) = (default, default, 1, 1);
            for (int x = _columns.Left; x <= _columns.Right; x++)
            {
                Vec2 n = canvas.Rays.At(x, y);
                Vec2 p = Local(n, out double w);

                // The size of a pixel changes slowly: afresh every 16 px.
                if (x == _columns.Left || (x & 15) == 0)
                {
                    dx = Local(n + new Vec2(_rayPx, 0), out _) - p;
                    dy = Local(n + new Vec2(0, _rayPx), out _) - p;
                    acrossPx = Math.Sqrt((dx.X * dx.X) + (dy.X * dy.X));
                    downPx = Math.Sqrt((dx.Y * dx.Y) + (dy.Y * dy.Y));
                }

                if (w == 0)
                    continue;
                double coverage = IsRound ? Disc(p, acrossPx, downPx) : Edge(Math.Min(p.X, _width - p.X) / acrossPx) * Edge(Math.Min(p.Y, _height - p.Y) / downPx);
                if (coverage > 0)
                    canvas.Blend(((y - canvas.Top) * canvas.Width) + x, Colour(x, y, p, dx, dy), (float)coverage);
            }
        }
    }

    public bool Covers(Vec2 px)
    {
        Vec2 p = Local(_lens.Undistort(px), out double w);
        return w != 0 && p.X >= 0 && p.X <= _width && p.Y >= 0 && p.Y <= _height;
    }

    /// <summary>Colour of one pixel: its centre on the panel and how far one pixel right and one down go there.</summary>
    protected virtual Vector3 Colour(int x, int y, Vec2 at, Vec2 dx, Vec2 dy) => _colour(at.X, at.Y, Math.Sqrt(Math.Abs(dx.Cross(dy))));

    private static bool IsNearView(SceneCamera camera, Vec3 p)
    {
        Vec3 d = p - camera.Position;
        double depth = camera.Forward.Dot(d);
        return depth > 100 && Math.Abs(camera.Right.Dot(d)) < 1.5 * depth && Math.Abs(camera.Down.Dot(d)) < 1.5 * depth;
    }

    // The distance to the edge in pixels, by the pixel's size towards the middle.
    private double Disc(Vec2 p, double acrossPx, double downPx)
    {
        Vec2 from = new(p.X - (_width / 2), p.Y - (_height / 2));
        double r = Math.Max(from.Length, 1e-9);
        double px = Math.Sqrt(Math.Pow(from.X / r * acrossPx, 2) + Math.Pow(from.Y / r * downPx, 2));
        return Edge(((_width / 2) - from.Length) / px);
    }

    private static double Edge(double insidePx) => Math.Clamp(insidePx + 0.5, 0, 1);

    private static IEnumerable<Vec3> Corners(Vec3 o, Vec3 a, Vec3 d) => [o, o + a, o + a + d, o + d];

    private Vec2 Local(Vec2 n, out double w)
    {
        w = (_h[6] * n.X) + (_h[7] * n.Y) + _h[8];
        return new Vec2(
            ((_h[0] * n.X) + (_h[1] * n.Y) + _h[2]) / w,
            ((_h[3] * n.X) + (_h[4] * n.Y) + _h[5]) / w);
    }
}

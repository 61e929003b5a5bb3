using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>
/// A round bar along a line in space: blank, line, cord, wire, post. Its outline is where the view grazes it (exact to (r/D)^2), so it
/// is seen as wide and as far off as a real bar. Coverage of a pixel is the overlap of the outline with a pixel-wide strip across the
/// bar; light is that of a cylinder, averaged over the same strip.
/// </summary>
public sealed class Tube : ICover
{
    private const int Levels = 25;
    private readonly Material _material;
    private readonly Vec2[] _centre;
    private readonly double[] _half;
    private readonly double[] _sign;
    private readonly Vector3[] _shade;
    private readonly bool _round;

    /// <param name="camera">The camera.</param>
    /// <param name="light">The lamps.</param>
    /// <param name="points">Its centreline, world mm, at least two points.</param>
    /// <param name="radius">Radius in mm at each point.</param>
    /// <param name="material">Its look.</param>
    /// <param name="round">Round ends, else cut square.</param>
    public Tube(SceneCamera camera, Lighting light, IReadOnlyList<Vec3> points, Func<int, double> radius, Material material, bool round = false)
    {
        int n = points.Count;
        _material = material;
        _round = round;
        _centre = new Vec2[n];
        _half = new double[n];
        _sign = new double[n];
        _shade = new Vector3[n * Levels];
        double along = 0;
        for (int i = 0; i < n; i++)
        {
            Vec3 tangent = (points[Math.Min(i + 1, n - 1)] - points[Math.Max(i - 1, 0)]).Normalized();
            Vec3 toEye = (camera.Position - points[i]).Normalized();
            Vec3 side = tangent.Cross(toEye).Normalized();
            Vec3 front = side.Cross(tangent);
            Vec2 left = camera.Project(points[i] + (side * radius(i)));
            Vec2 right = camera.Project(points[i] - (side * radius(i)));
            _centre[i] = (left + right) / 2;
            _half[i] = left.DistanceTo(right) / 2;
            Vec2 run = camera.Project(points[i] + (tangent * 0.1)) - camera.Project(points[i] - (tangent * 0.1));
            _sign[i] = Math.Sign(run.Cross(left - right));
            along += i > 0 ? (points[i] - points[i - 1]).Length : 0;
            float factor = (float)(material.Along?.Invoke(along) ?? 1);
            for (int k = 0; k < Levels; k++)
            {
                double u = Math.Clamp(-1 + (2.0 * k / (Levels - 1)), -0.995, 0.995);
                Vec3 normal = (side * u) + (front * Math.Sqrt(1 - (u * u)));
                _shade[(i * Levels) + k] = light.Shade(material, points[i], normal, toEye) * factor;
            }
        }

        double widest = _half.Max() + 2;
        RowsPx = (_centre.Min(c => c.Y) - widest, _centre.Max(c => c.Y) + widest);
    }

    public (double Top, double Bottom) RowsPx { get; }

    public void Paint(Canvas canvas)
    {
        int own = canvas.NextGeneration();
        for (int i = 0; i + 1 < _centre.Length; i++)
            Strokes.Gather(canvas, own, i, _centre[i], _centre[i + 1], Math.Max(_half[i], _half[i + 1]) + 1.2);
        foreach (int index in canvas.Touched)
            Finish(canvas, index);
    }

    public bool Covers(Vec2 px)
    {
        if (px.Y < RowsPx.Top || px.Y > RowsPx.Bottom || _material.Opacity < 0.5)
            return false;
        for (int i = 0; i + 1 < _centre.Length; i++)
        {
            Vec2 run = _centre[i + 1] - _centre[i];
            double at = (px - _centre[i]).Dot(run) / run.LengthSquared;
            bool open = !_round && ((i == 0 && at < 0) || (i == _centre.Length - 2 && at > 1));
            double t = Math.Clamp(at, 0, 1);
            if (!open && px.DistanceTo(_centre[i] + (run * t)) <= _half[i] + (t * (_half[i + 1] - _half[i])))
                return true;
        }

        return false;
    }

    private void Finish(Canvas canvas, int index)
    {
        int i = canvas.Segment[index];
        double t = canvas.Part[index];
        Vec2 p = new(index % canvas.Width, canvas.Top + (index / canvas.Width));
        Vec2 run = _centre[i + 1] - _centre[i];
        double length = run.Length;
        Vec2 away = p - _centre[i];
        double distance = Math.Sqrt(canvas.Near[index]);
        double half = _half[i] + (t * (_half[i + 1] - _half[i]));
        double coverage = Math.Max(0, Math.Min(distance + 0.5, half) - Math.Max(distance - 0.5, -half));
        if (!_round && (i == 0 || i == _centre.Length - 2))
        {
            double at = away.Dot(run) / length;
            double inside = Math.Min(i == 0 ? at : 1e9, i == _centre.Length - 2 ? length - at : 1e9);
            double across = Math.Abs(run.Cross(away) / length);
            coverage = Math.Max(0, Math.Min(across + 0.5, half) - Math.Max(across - 0.5, -half)) * Math.Clamp(inside + 0.5, 0, 1);
        }

        if (coverage <= 0)
            return;
        double offset = run.Cross(away) / length * _sign[i];
        canvas.Blend(index, Look(i, (float)t, offset, half), (float)(Math.Min(1, coverage) * _material.Opacity));
    }

    // Mean colour over the part of the strip offset - 0.5 .. offset + 0.5 that lies on the bar.
    private Vector3 Look(int node, float t, double offset, double half)
    {
        double from = Math.Clamp((offset - 0.5) / half, -1, 1);
        double to = Math.Clamp((offset + 0.5) / half, -1, 1);
        Vector3 sum = default;
        const int n = 4;
        for (int k = 0; k < n; k++)
        {
            double u = from + ((to - from) * (k + 0.5) / n);
            double at = (u + 1) / 2 * (Levels - 1);
            int level = Math.Min((int)at, Levels - 2);
            int k0 = (node * Levels) + level;
            float part = (float)(at - level);
            sum += Vector3.Lerp(Vector3.Lerp(_shade[k0], _shade[k0 + 1], part), Vector3.Lerp(_shade[k0 + Levels], _shade[k0 + Levels + 1], part), t);
        }

        return sum / n;
    }
}

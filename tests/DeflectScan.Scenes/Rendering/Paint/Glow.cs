using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>A shining ball and the glow that the lens makes about it.</summary>
public sealed class Glow : IPaint
{
    private readonly Vec2 _centre;
    private readonly double _radius;
    private readonly Vector3 _light;

    public Glow(SceneCamera camera, Vec3 at, double radiusMm, Vector3 light)
    {
        _centre = camera.Project(at);
        _radius = _centre.DistanceTo(camera.Project(at + (camera.Right * radiusMm)));
        _light = light;
        RowsPx = (_centre.Y - (6 * _radius), _centre.Y + (6 * _radius));
    }

    public (double Top, double Bottom) RowsPx { get; }

    public void Paint(Canvas canvas)
    {
        for (int y = Math.Max(canvas.Top, (int)RowsPx.Top); y < Math.Min(canvas.Bottom, RowsPx.Bottom); y++)
        {
            for (int x = Math.Max(0, (int)(_centre.X - (6 * _radius))); x < Math.Min(canvas.Width, _centre.X + (6 * _radius)); x++)
            {
                double d = _centre.DistanceTo(new Vec2(x, y));
                int index = ((y - canvas.Top) * canvas.Width) + x;
                float ball = (float)Math.Clamp(_radius - d + 0.5, 0, 1);
                double far = Math.Max(0, 1 - (d / (6 * _radius)));
                canvas.Blend(index, _light, ball);
                canvas.Pixels[index] += _light * (float)(0.25 * far * far * (1 - ball));
            }
        }
    }
}

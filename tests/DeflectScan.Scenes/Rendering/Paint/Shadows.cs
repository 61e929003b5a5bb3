using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>What a lamp's shadow does to the wall: the darkest of all that falls on a pixel counts, once.</summary>
public sealed class ShadowMask(SceneOptions options, Lighting light) : IPaint
{
    private readonly float _share = (float)(light.LampShare * 1.35 / (light.Ambient + (light.LampShare * 1.35 * light.Lamps.Count)));
    private readonly float _strength = options.Light == LightKind.Soft ? 0.8f : 1;

    public (double Top, double Bottom) RowsPx => (double.NegativeInfinity, double.PositiveInfinity);

    public void Paint(Canvas canvas)
    {
        int n = canvas.Width * canvas.Rows;
        for (int i = 0; i < n; i++)
        {
            if (canvas.Shadow[i] > 0)
                canvas.Pixels[i] *= 1 - (canvas.Shadow[i] * _share * _strength);
        }

        Array.Clear(canvas.Shadow);
    }

    /// <summary>Where a lamp throws a point onto the wall at depth -wallMm.</summary>
    public static Vec3 OnWall(Vec3 lamp, Vec3 p, double wallMm) => lamp + ((p - lamp) * ((lamp.Z + wallMm) / (lamp.Z - p.Z)));
}

/// <summary>The shadow of a bar on the wall, as soft as the lamp is large.</summary>
public sealed class BarShadow : IPaint
{
    private readonly Vec2[] _centre;
    private readonly double[] _half;
    private readonly double _soft;

    public BarShadow(SceneCamera camera, Lighting light, Vec3 lamp, double wallMm, IReadOnlyList<Vec3> points, Func<int, double> radius)
    {
        Vec3[] thrown = [.. points.Select(p => ShadowMask.OnWall(lamp, p, wallMm))];
        _centre = [.. thrown.Select(camera.Project)];
        double pxPerMm = camera.Lens.FocalPx / camera.Forward.Dot(thrown[0] - camera.Position);
        double grown = (thrown[0] - lamp).Length / (points[0] - lamp).Length;
        _half = [.. points.Select((_, i) => radius(i) * grown * pxPerMm)];
        _soft = Math.Max(0.6, light.LampRadiusMm * (grown - 1) * pxPerMm * 0.5);
        double reach = _half.Max() + (2.5 * _soft);
        RowsPx = (_centre.Min(c => c.Y) - reach, _centre.Max(c => c.Y) + reach);
    }

    public (double Top, double Bottom) RowsPx { get; }

    public void Paint(Canvas canvas)
    {
        int own = canvas.NextGeneration();
        for (int i = 0; i + 1 < _centre.Length; i++)
        {
            // Too thin for so soft a light: nothing to be seen.
            if (Math.Max(_half[i], _half[i + 1]) > 0.04 * _soft)
                Strokes.Gather(canvas, own, i, _centre[i], _centre[i + 1], Math.Max(_half[i], _half[i + 1]) + (2.5 * _soft));
        }

        foreach (int index in canvas.Touched)
        {
            int i = canvas.Segment[index];
            double half = _half[i] + (canvas.Part[index] * (_half[i + 1] - _half[i]));
            double d = Math.Sqrt(canvas.Near[index]);
            float dark = (float)(Step((half - d) / _soft) + Step((half + d) / _soft) - 1);
            canvas.Shadow[index] = Math.Max(canvas.Shadow[index], dark);
        }
    }

    // Logistic curve close to the Gaussian's integral.
    internal static double Step(double z) => 1 / (1 + Math.Exp(-1.702 * z));
}

/// <summary>The shadow of a flat convex shape on the wall.</summary>
public sealed class PlateShadow : IPaint
{
    private readonly Vec2[] _corners;
    private readonly double _soft;
    private readonly double _turn;

    public PlateShadow(SceneCamera camera, Lighting light, Vec3 lamp, double wallMm, IReadOnlyList<Vec3> corners)
    {
        Vec3[] thrown = [.. corners.Select(p => ShadowMask.OnWall(lamp, p, wallMm))];
        _corners = [.. thrown.Select(camera.Project)];
        double pxPerMm = camera.Lens.FocalPx / camera.Forward.Dot(thrown[0] - camera.Position);
        double grown = (thrown[0] - lamp).Length / (corners[0] - lamp).Length;
        _soft = Math.Max(0.6, light.LampRadiusMm * (grown - 1) * pxPerMm * 0.5);
        _turn = Math.Sign((_corners[1] - _corners[0]).Cross(_corners[2] - _corners[1]));
        RowsPx = (_corners.Min(c => c.Y) - (3 * _soft), _corners.Max(c => c.Y) + (3 * _soft));
    }

    public (double Top, double Bottom) RowsPx { get; }

    public void Paint(Canvas canvas)
    {
        int top = Math.Max(canvas.Top, (int)RowsPx.Top);
        int bottom = Math.Min(canvas.Bottom - 1, (int)RowsPx.Bottom);
        int left = Math.Max(0, (int)(_corners.Min(c => c.X) - (3 * _soft)));
        int right = Math.Min(canvas.Width - 1, (int)(_corners.Max(c => c.X) + (3 * _soft)));
        for (int y = top; y <= bottom; y++)
        {
            for (int x = left; x <= right; x++)
            {
                double dark = 1;
                for (int k = 0; k < _corners.Length; k++)
                {
                    Vec2 run = (_corners[(k + 1) % _corners.Length] - _corners[k]).Normalized();
                    dark *= BarShadow.Step(_turn * run.Cross(new Vec2(x, y) - _corners[k]) / _soft);
                }

                int index = ((y - canvas.Top) * canvas.Width) + x;
                canvas.Shadow[index] = Math.Max(canvas.Shadow[index], (float)dark);
            }
        }
    }
}

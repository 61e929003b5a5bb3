using System.Numerics;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>A small picture of shapes drawn at random (discs, bars, wedges, lines, rows of letters, blotches), in linear light: what posters, windows and boxes show.</summary>
public sealed class Collage
{
    private readonly int _width;
    private readonly int _height;
    private readonly Vector3[] _at;

    public Collage(int seed, int width, int height, int shapes)
    {
        (_width, _height) = (width, height);
        _at = new Vector3[width * height];
        Random r = new(unchecked((seed * 8117) + 23));
        Vector3 top = Colour(r);
        Vector3 bottom = Colour(r);
        NoiseField noise = new(seed + 3, 6);
        double rough = 0.7 * r.NextDouble() * r.NextDouble();
        for (int y = 0; y < height; y++)
        {
            for (int x = 0; x < width; x++)
                _at[(y * width) + x] = Vector3.Lerp(top, bottom, y / (float)height);
        }

        for (int k = 0; k < shapes; k++)
            Shape(r);
        Soften();
        for (int y = 0; y < height; y++)
        {
            for (int x = 0; x < width; x++)
                _at[(y * width) + x] *= Math.Max(0.1f, 1 + (float)(rough * noise.At(x, y)));
        }
    }

    /// <summary>Any colour, some of them dull, dark or pale.</summary>
    public static Vector3 Colour(Random r)
    {
        Vector3 c = new((float)r.NextDouble(), (float)r.NextDouble(), (float)r.NextDouble());
        float grey = (c.X + c.Y + c.Z) / 3;
        c = Vector3.Lerp(new Vector3(grey), c, (float)r.NextDouble());
        return c * c * (float)(0.15 + (0.8 * r.NextDouble()));
    }

    /// <summary>Bilinear; u and v 0 to 1, mirrored beyond.</summary>
    public Vector3 At(double u, double v)
    {
        double x = Mirrored(u) * (_width - 1.001);
        double y = Mirrored(v) * (_height - 1.001);
        int i = (int)x;
        int j = (int)y;
        float s = (float)(x - i);
        float t = (float)(y - j);
        int k = (j * _width) + i;
        return Vector3.Lerp(Vector3.Lerp(_at[k], _at[k + 1], s), Vector3.Lerp(_at[k + _width], _at[k + _width + 1], s), t);
    }

    private static double Mirrored(double u)
    {
        u = Math.Abs(u) % 2;
        return u > 1 ? 2 - u : u;
    }

    // Without it the steps of slanted edges would show.
    private void Soften()
    {
        Vector3[] from = (Vector3[])_at.Clone();
        for (int y = 1; y < _height - 1; y++)
        {
            for (int x = 1; x < _width - 1; x++)
            {
                int k = (y * _width) + x;
                _at[k] = ((from[k] * 4) + ((from[k - 1] + from[k + 1] + from[k - _width] + from[k + _width]) * 2)
                    + from[k - _width - 1] + from[k - _width + 1] + from[k + _width - 1] + from[k + _width + 1]) / 16;
            }
        }
    }

    private void Shape(Random r)
    {
        double cx = _width * r.NextDouble();
        double cy = _height * r.NextDouble();
        double size = _width * (0.01 + (0.3 * r.NextDouble() * r.NextDouble()));
        double flat = size * (0.1 + (0.9 * r.NextDouble()));
        (double sin, double cos) = Math.SinCos(r.NextDouble() < 0.4 ? 0 : 6.28 * r.NextDouble());
        Vector3 colour = Colour(r);
        int kind = r.Next(5);
        if (kind == 3)
            (size, flat) = (_width * r.NextDouble(), 0.7 + (2 * r.NextDouble()));
        double reach = Math.Max(size, flat);
        int seed = r.Next();
        for (int y = Math.Max(0, (int)(cy - reach)); y < Math.Min(_height, cy + reach); y++)
        {
            for (int x = Math.Max(0, (int)(cx - reach)); x < Math.Min(_width, cx + reach); x++)
            {
                double a = (((x - cx) * cos) + ((y - cy) * sin)) / size;
                double b = (((y - cy) * cos) - ((x - cx) * sin)) / flat;
                bool inside = kind switch
                {
                    0 => (a * a) + (b * b) < 1,
                    1 or 3 => Math.Abs(a) < 1 && Math.Abs(b) < 1,
                    2 => b > -1 && b < 1 && Math.Abs(a) < (1 - b) / 2,
                    _ => Math.Abs(a) < 1 && Math.Abs(b) < 1 && Letter((int)((a + 1) * size / 2.2), (int)((b + 1) * flat / 4), ((b + 1) * flat / 4) % 1, seed),
                };
                if (inside)
                    _at[(y * _width) + x] = colour;
            }
        }
    }

    private static bool Letter(int column, int row, double within, int seed) =>
        within < 0.6 && (unchecked((uint)((column * 73856093) ^ (row * 19349663) ^ seed) * 2654435761u) >> 30) > 0;
}

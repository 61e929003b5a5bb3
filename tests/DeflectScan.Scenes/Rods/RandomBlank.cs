using DeflectScan.Geometry;
using DeflectScan.Layout;

namespace DeflectScan.Scenes.Rods;

/// <summary>Random bent blanks, by integrating a random smooth curvature; seeds make them the same every time.</summary>
public static class RandomBlank
{
    public static BlankShape Make(Random random, double lengthMm, bool inflection)
    {
        double turn = 0.5 + (1.2 * random.NextDouble());
        double peak = random.NextDouble();
        double width = 0.15 + random.NextDouble();
        double wave = inflection ? 1.2 + random.NextDouble() : 0.9 * random.NextDouble();
        double phase = 2 * Math.PI * random.NextDouble();
        double Shape(double u) => Math.Exp(-Math.Pow((u - peak) / width, 2)) + 0.1 + (0.5 * wave * Math.Sin((5 * u) + phase) * (inflection ? 1 : 0.1));
        return Make(s => turn / lengthMm * Shape(s / lengthMm), lengthMm);
    }

    /// <summary>The blank with a given curvature (1/mm) by station; radius from 0.8 mm at the tip to 6 mm.</summary>
    public static BlankShape Make(Func<double, double> curvature, double lengthMm)
    {
        int n = (int)(lengthMm / 2);
        double h = lengthMm / n;
        double angle = 0;
        Vec2 p = new(0, 0);
        List<Vec2> points = [p];
        for (int i = 0; i < n; i++)
        {
            double k = curvature((i + 0.5) * h);
            double middle = angle + (k * h / 2);
            p += new Vec2(Math.Cos(middle), Math.Sin(middle)) * h;
            angle += k * h;
            points.Add(p);
        }

        return BlankShape.Through(points, [.. points.Select((_, i) => 1.6 + (10.4 * i / n))]);
    }
}

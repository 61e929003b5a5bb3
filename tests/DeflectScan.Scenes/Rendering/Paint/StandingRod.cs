using System.Numerics;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Another rod behind the one that is measured: straight, with its own handle, wraps, guides and perhaps a line.</summary>
public sealed class StandingRod(SceneCamera camera, Lighting light, Random random)
{
    private static readonly Material Wire = new(new Vector3(0.25f, 0.25f, 0.26f), 0.6, 40);

    /// <param name="butt">Butt end.</param>
    /// <param name="along">Unit direction to the tip.</param>
    public IEnumerable<IPaint> At(Vec3 butt, Vec3 along)
    {
        double length = 1400 + (1100 * random.NextDouble());
        double thick = 4.5 + (3 * random.NextDouble());
        double thin = 0.6 + (0.6 * random.NextDouble());
        double bow = 60 * (random.NextDouble() - 0.5);
        Vec3 across = along.Cross(new Vec3(0, 0, 1)).Normalized();
        Vector3 colour = random.NextDouble() < 0.5 ? new Vector3(0.03f) : Collage.Colour(random);
        Vector3 thread = Collage.Colour(random);
        Vec3 Point(double s) => butt + (along * s) + (across * (bow * Math.Pow(s / length, 2)));
        double Radius(double s) => thin + ((thick - thin) * (1 - (s / length)));
        Vec3[] path = [.. Enumerable.Range(0, 81).Select(i => Point(length * i / 80.0))];
        double grip = 250 + (200 * random.NextDouble());
        yield return new Tube(camera, light, path, i => Radius(length * i / 80.0), new Material(colour, random.NextDouble(), 80));
        yield return Piece(0, grip, 11 + (3 * random.NextDouble()), new Material(random.NextDouble() < 0.5 ? new Vector3(0.5f, 0.29f, 0.12f) : new Vector3(0.025f)));
        double turn = random.NextDouble() * 2 * Math.PI;
        Vec3 up = (across * Math.Cos(turn)) + (new Vec3(0, 0, 1) * Math.Sin(turn));
        Vec3 side = along.Cross(up);
        double height = 10 + (25 * random.NextDouble());
        bool tubing = random.NextDouble() < 0.4;
        for (double s = grip + 150 + (200 * random.NextDouble()); s < length - 20; s += 90 + (180 * random.NextDouble()))
        {
            double ring = 0.45 * height;
            Vec3 centre = Point(s) + (up * height);
            Vec3[] circle = [.. Enumerable.Range(0, 17).Select(i => 2 * Math.PI * i / 16).Select(a => centre + (up * (ring * Math.Cos(a))) + (side * (ring * Math.Sin(a))))];
            yield return new Tube(camera, light, circle, _ => 0.5 + (0.03 * ring), Wire, round: true);
            yield return new Tube(camera, light, [Point(s - height) + (up * Radius(s)), Point(s - (0.4 * height)) + (up * (0.5 * height)), centre - (up * ring)], _ => 0.5, Wire, round: true);
            yield return Piece(s - height - 10, s - height + (tubing ? -4 : 3), Radius(s) + 0.6, new Material(thread, 0.3, 40));
            height = 6 + ((height - 6) * 0.65);
        }

        if (random.NextDouble() < 0.4)
            yield return new Tube(camera, light, [Point(grip) + (up * 30), Point(length) + (up * 4)], _ => 0.2, new Material(Collage.Colour(random), 0.2, 30));

        Tube Piece(double from, double to, double radius, Material m) => new(camera, light, [Point(from), Point((from + to) / 2), Point(to)], _ => radius, m);
    }
}

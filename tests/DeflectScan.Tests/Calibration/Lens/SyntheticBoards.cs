using DeflectScan.Calibration;
using DeflectScan.Calibration.Lens;
using DeflectScan.Geometry;

namespace DeflectScan.Tests.Calibration.Lens;

/// <summary>Chessboard corners projected through a known lens, with normal noise: independent of any picture.</summary>
internal sealed class SyntheticBoards(int seed)
{
    public const int WidthPx = 4000;
    public const int HeightPx = 3000;
    private static readonly BoardPattern Pattern = new(9, 6, 30);
    private readonly Random _random = new(seed);

    public static CameraModel Camera { get; } = new(3150, new Vec2(2010, 1488), 0.06, -0.11, 0.0004, -0.0003, 0);

    /// <param name="count">How many.</param>
    /// <param name="noisePx">Of each coordinate.</param>
    /// <param name="tiltDeg">The boards' tilts lie within ± this.</param>
    /// <param name="spread">How far from the middle they stand, 1: up to the borders.</param>
    public BoardView[] See(int count, double noisePx, double tiltDeg = 35, double spread = 1)
    {
        List<BoardView> views = [];
        while (views.Count < count)
        {
            double rad = Math.PI / 180;
            double[] r = Rotations.FromVector(Uniform(tiltDeg) * rad, Uniform(tiltDeg) * rad, Uniform(20) * rad);
            BoardPose pose = new(r, [(spread * Uniform(260)) - 120, (spread * Uniform(190)) - 75, 700 + Uniform(120)]);
            Vec2[] exact = [.. Pattern.PointsMm.Select(p => Camera.Distort(pose.Pinhole(p)))];
            if (exact.All(p => p.X > 20 && p.Y > 20 && p.X < WidthPx - 20 && p.Y < HeightPx - 20))
                views.Add(new BoardView($"{views.Count}.jpg", Pattern.PointsMm, [.. exact.Select(p => p + new Vec2(noisePx * Normal(), noisePx * Normal()))]));
        }

        return [.. views];
    }

    private double Uniform(double half) => half * ((2 * _random.NextDouble()) - 1);

    /// <summary>Standard normal (Box and Muller 1958).</summary>
    private double Normal() => Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());
}

using DeflectScan.Geometry;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Tests.Tracing.Line;

public class PolylineFitTests
{
    private static readonly Vec2[] Corners = [new(0, 0), new(120, 9), new(260, 0), new(420, -40)];

    /// <summary>A noise-sampling check: the stated covariance is what repeated noise shows.</summary>
    [Fact]
    public void TheStatedUncertaintyIsWhatNoiseDoes()
    {
        Random random = new(7);
        List<double> scaled = [];
        for (int trial = 0; trial < 300; trial++)
        {
            List<OffsetSight> sights = [];
            for (int segment = 0; segment < Corners.Length - 1; segment++)
            {
                for (int k = 0; k < 20; k++)
                    sights.Add(new OffsetSight(segment, (k + 0.5) / 20, 0.05 * Normal(random), 0.05));
            }

            PolylineSolution solution = PolylineFit.Step(Corners, sights, [], dampingMm: 1000);
            for (int i = 1; i < Corners.Length - 1; i++)
            {
                (double along, double across) = RingReport.Uncertainty(solution, i, new Vec2(1, 0));
                Vec2 moved = solution.Vertices[i] - Corners[i];
                scaled.Add(moved.X / along);
                scaled.Add(moved.Y / across);
            }
        }

        double sd = Math.Sqrt(scaled.Average(v => v * v));
        Assert.InRange(sd, 0.85, 1.2);
    }

    [Fact]
    public void AMovedPolylineComesBack()
    {
        Vec2[] moved = [.. Corners.Select((c, i) => c + new Vec2(0.4 - (0.3 * i), 0.2 * (i % 2)))];
        List<OffsetSight> sights = [];
        for (int i = 0; i < moved.Length - 1; i++)
        {
            Vec2 along = moved[i + 1] - moved[i];
            Vec2 trueAlong = (Corners[i + 1] - Corners[i]).Normalized();
            for (int k = 1; k < 20; k++)
            {
                Vec2 at = Vec2.Lerp(moved[i], moved[i + 1], k / 20.0);
                double offset = trueAlong.Cross(Corners[i] - at) / trueAlong.Cross(along.Normalized().Perpendicular);
                sights.Add(new OffsetSight(i, k / 20.0, offset, 0.05));
            }
        }

        IReadOnlyList<Vec2> fitted = PolylineFit.Step(moved, sights, [], dampingMm: 1000).Vertices;
        for (int i = 1; i < Corners.Length - 1; i++)
            Assert.True(fitted[i].DistanceTo(Corners[i]) < 0.05, $"corner {i}: {fitted[i]}");
    }

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}

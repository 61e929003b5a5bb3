using DeflectScan.Geometry;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Tests.Tracing.Line;

public class StraightRunsTests
{
    [Fact]
    public void ATautLineIsCutWhereItTurns()
    {
        Vec2[] corners = [new(0, 0), new(100, 0), new(220, 12), new(400, 55)];
        Random random = new(3);
        List<PathPoint> points = [];
        for (int i = 0; i < corners.Length - 1; i++)
        {
            int n = (int)(corners[i].DistanceTo(corners[i + 1]) / 6);
            for (int k = 0; k < n; k++)
            {
                Vec2 p = Vec2.Lerp(corners[i], corners[i + 1], (k + 0.5) / n) + new Vec2(0, 0.2 * (random.NextDouble() - 0.5));
                points.Add(new PathPoint(p.X, 0, p, 0.1));
            }
        }

        points[9] = points[9] with { PlaneMm = points[9].PlaneMm + new Vec2(0, 3) };
        List<StraightRun> runs = StraightRuns.Cut(points, costPerRun: 25);
        List<Vec2> line = new PolylineChoice(points, turnSign: 1, cornerCost: 20, Anywhere()).Choose(PolylineChoice.Corners(runs, points));
        Assert.Equal(4, line.Count);
        Assert.True(line[1].DistanceTo(corners[1]) < 2, $"{line[1]}");
        Assert.True(line[2].DistanceTo(corners[2]) < 2, $"{line[2]}");
    }

    private static BlankClearance Anywhere()
    {
        ArcCurve far = ArcCurve.Through([new(-100, -10), new(200, -10), new(600, -10)]);
        return new BlankClearance(new DeflectScan.Tracing.BlankAxis(far, [0, 700], [2, 2], [0, 0], [0, 0], 700, 1), 1, 1000, outside: false);
    }
}

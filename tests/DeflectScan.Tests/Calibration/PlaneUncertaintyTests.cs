using DeflectScan.Calibration;
using DeflectScan.Geometry;

namespace DeflectScan.Tests.Calibration;

/// <summary>
/// The stated uncertainty against what happens: many synthetic photos, lens and pose and noise drawn anew (in the manner of JCGM 101).
/// </summary>
public class PlaneUncertaintyTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void StatedUncertaintyMatchesTheSpreadOfErrors(int cards)
    {
        const int photos = 120;
        (Vec2 A, Vec2 B)[] lengths = [(new(-500, -200), new(500, 250)), (new(300, 250), new(500, 100)), (new(550, 150), new(620, -100))];
        double[] squares = new double[lengths.Length];
        int inside = 0;
        for (int seed = 0; seed < photos; seed++)
        {
            SyntheticCards scene = new(seed);
            RodPlane plane = PlaneSolver.Solve(scene.See(SyntheticCards.Two[..cards], 0.08), scene.Info).Value!.Plane;
            for (int i = 0; i < lengths.Length; i++)
            {
                (Vec2 a, Vec2 b) = (scene.Plane.ToPhoto(lengths[i].A), scene.Plane.ToPhoto(lengths[i].B));
                double z = (PlaneSolverTests.Length(plane, a, b) - lengths[i].A.DistanceTo(lengths[i].B)) / PlaneSolverTests.Uncertainty(plane, a, b);
                squares[i] += z * z / photos;
                inside += Math.Abs(z) < 1.96 ? 1 : 0;
            }
        }

        Assert.All(squares, s => Assert.InRange(Math.Sqrt(s), 0.6, 1.25));
        Assert.InRange(inside / (double)(photos * lengths.Length), 0.92, 0.995);
    }

    /// <summary>One card alone says less the farther away from it one looks, and the stated uncertainty must say so.</summary>
    [Fact]
    public void UncertaintyOfOneCardGrowsAwayFromItAndASecondCardMendsIt()
    {
        SyntheticCards scene = new(7);
        RodPlane one = PlaneSolver.Solve(scene.See(SyntheticCards.Two[..1], 0.08), scene.Info).Value!.Plane;
        RodPlane two = PlaneSolver.Solve(scene.See(SyntheticCards.Two, 0.08), scene.Info).Value!.Plane;
        double near = Of(one, new Vec2(-450, -150));
        double middle = Of(one, new Vec2(100, 0));
        double far = Of(one, new Vec2(750, 300));
        Assert.True(near < 0.2 && middle > 2 * near && far > 2 * middle, $"{near:0.00} {middle:0.00} {far:0.00} mm");
        Assert.True(Of(two, new Vec2(750, 300)) < 0.2 * far);

        double Of(RodPlane plane, Vec2 startMm) =>
            PlaneSolverTests.Uncertainty(plane, scene.Plane.ToPhoto(startMm), scene.Plane.ToPhoto(startMm + new Vec2(200, 0)));
    }
}

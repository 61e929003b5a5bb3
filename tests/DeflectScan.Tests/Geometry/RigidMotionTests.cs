using DeflectScan.Geometry;

namespace DeflectScan.Tests.Geometry;

public class RigidMotionTests
{
    [Fact]
    public void TheMotionThatMovedPointsIsFoundAgain()
    {
        RigidMotion motion = new(2.1, new Vec2(-40, 7));
        Vec2[] points = [new(0, 0), new(100, 3), new(250, -80), new(400, -300)];
        RigidMotion found = RigidMotion.Fit(points, [.. points.Select(motion.Apply)]);
        Assert.Equal(motion.AngleRad, found.AngleRad, 1e-12);
        Assert.True(found.Shift.DistanceTo(motion.Shift) < 1e-9);
        Assert.True(found.Turn(new Vec2(1, 0)).DistanceTo(new Vec2(Math.Cos(2.1), Math.Sin(2.1))) < 1e-12);
    }

    [Fact]
    public void NoOtherMotionFitsBetter()
    {
        Vec2[] from = [new(0, 0), new(10, 0), new(20, 5), new(31, 18)];
        Vec2[] to = [new(1, 1), new(11, 2), new(19, 9), new(32, 20)];
        RigidMotion best = RigidMotion.Fit(from, to);
        double least = Miss(best);
        foreach (double d in (double[])[-0.01, 0.01])
        {
            Assert.True(Miss(best with { AngleRad = best.AngleRad + d }) > least);
            Assert.True(Miss(best with { Shift = best.Shift + new Vec2(d, 0) }) > least);
            Assert.True(Miss(best with { Shift = best.Shift + new Vec2(0, d) }) > least);
        }

        double Miss(RigidMotion m) => from.Zip(to, (a, b) => (m.Apply(a) - b).LengthSquared).Sum();
    }
}

using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Layout.OnRings;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Layout;

/// <summary>
/// Textbook values: F = 2 T sin(θ/2) for a frictionless pulley, T2/T1 = e^(μθ) for a rope round a post (Euler and Eytelwein), the latter
/// also as read in an open encyclopedia's worked example (μ = 0.3: half a turn about 2.6) and recomputed to ten digits.
/// </summary>
public class LineLoadsTests
{
    [Theory]
    [InlineData(10, 0.1743114855)]
    [InlineData(20, 0.3472963553)]
    [InlineData(30, 0.5176380902)]
    [InlineData(60, 1)]
    [InlineData(90, 1.414213562)]
    public void WithoutFrictionTheLoadIsTwicePullTimesSineOfHalfTheAngle(double angleDeg, double load)
    {
        GuideLoad ring = AtOneRing(angleDeg, new() { PullN = 1, Motion = LineMotion.Still });
        Assert.Equal(angleDeg, ring.LineAngleDeg, 1e-9);
        Assert.Equal(load, ring.LoadN, 1e-9);
        Assert.Equal(1, ring.PullReelwardN, 1e-12);
    }

    [Theory]
    [InlineData(0.1, 90, 1.170088787)]
    [InlineData(0.2, 90, 1.369107771)]
    [InlineData(0.3, 90, 1.601977651)]
    [InlineData(0.2, 179.9999, 1.874456)]
    public void WithFrictionThePullGrowsByTheCapstansFactor(double friction, double angleDeg, double factor)
    {
        Assert.Equal(factor, AtOneRing(angleDeg, new() { PullN = 1, Friction = friction, Motion = LineMotion.TowardReel }).PullReelwardN, 1e-6);
        Assert.Equal(1 / factor, AtOneRing(angleDeg, new() { PullN = 1, Friction = friction, Motion = LineMotion.TowardTip }).PullReelwardN, 1e-6);
    }

    /// <summary>The resultant of both pulls, recomputed: μ 0.15, 60 degrees, T1 = 1.</summary>
    [Fact]
    public void WithFrictionTheLoadIsTheResultantOfBothPulls()
    {
        GuideLoad ring = AtOneRing(60, new() { PullN = 1, Friction = 0.15, Motion = LineMotion.TowardReel });
        double t2 = Math.Exp(0.15 * Math.PI / 3);
        Assert.Equal(Math.Sqrt(1 + (t2 * t2) - t2), ring.LoadN, 1e-12);
        Assert.Equal(1.094997253, ring.LoadN, 1e-9);
    }

    [Fact]
    public void FrictionOverAllRingsDependsOnTheWholeAngleOnly()
    {
        Vec2[] path = [new(0, 0), new(1, 0), new(2, -0.2), new(2.8, -0.8), new(3, -1.6), new(3, -3)];
        LineVertex[] rings = [.. path.Skip(1).SkipLast(1).Select((p, i) => new LineVertex(p, i, 0))];
        LineLoads loads = LineLoads.Of(new LinePath(rings, []), new() { PullN = 5, Friction = 0.15, Motion = LineMotion.TowardReel }, path[0], path[^1]);
        Assert.Equal(1.2657, loads.FrictionFactor, 5e-5);
        Assert.Equal(5 * loads.FrictionFactor, loads.PullAtReelN, 1e-9);
        Assert.Equal(1, loads.Rings.Sum(r => r.Share), 1e-12);
        Assert.Equal(90, loads.Rings.Sum(r => r.LineAngleDeg), 1e-9);
    }

    [Fact]
    public void TheForcesOfAllRingsBalanceBothEndsOfTheLine()
    {
        Truth truth = Repository.Truth("clean-spinning");
        BlankShape blank = TruthShape.Blank(truth);
        LinePath path = LinePath.Taut(blank, TruthShape.Rings(truth, blank), GuideSide.Inside);
        Assert.Empty(path.Contacts);
        TruthVertex reel = truth.Line.Vertices[0];
        Vec2 from = new(reel.X, reel.Y);
        Vec2 to = new(truth.Line.HangsToMm![0], truth.Line.HangsToMm[1]);
        LineLoads loads = LineLoads.Of(path, new() { PullN = 8, Motion = LineMotion.TowardReel }, from, to);
        Vec2 sum = loads.Rings.Aggregate(new Vec2(0, 0), (v, r) => v + (r.DirectionMm * r.LoadN));
        Vec2 ends = ((from - path.Vertices[0].PointMm).Normalized() * loads.PullAtReelN) + ((to - path.Vertices[^1].PointMm).Normalized() * 8);
        Assert.Equal(ends.X, sum.X, 1e-9);
        Assert.Equal(ends.Y, sum.Y, 1e-9);
        Assert.DoesNotContain(loads.Rings, r => r.IsKink);
    }

    [Fact]
    public void AGuideOutOfLineIsAKink()
    {
        Vec2[] path = [new(0, 0), new(100, 0), new(200, -5), new(300, -12), new(400, -60), new(500, -112), new(600, -170)];
        LineVertex[] rings = [.. path.Skip(1).SkipLast(1).Select((p, i) => new LineVertex(p, i, 0))];
        LineLoads loads = LineLoads.Of(new LinePath(rings, []), new(), path[0], path[^1]);
        Assert.Equal([2], loads.Rings.Where(r => r.IsKink).Select(r => r.Ring));
    }

    private static GuideLoad AtOneRing(double angleDeg, LineLoadOptions options)
    {
        double a = angleDeg * Math.PI / 180;
        LinePath path = new([new(new(0, 0), 0, 0)], []);
        return Assert.Single(LineLoads.Of(path, options, new Vec2(-1, 0), new Vec2(Math.Cos(a), -Math.Sin(a))).Rings);
    }
}

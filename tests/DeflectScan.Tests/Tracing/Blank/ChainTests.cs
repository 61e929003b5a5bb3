using DeflectScan.Geometry;
using DeflectScan.Tracing.Blank;

namespace DeflectScan.Tests.Tracing.Blank;

/// <summary>Chains of strokes against the lines they were made of.</summary>
public class ChainTests
{
    /// <summary>A straight post at 20 degrees or more to an evenly bent bar is cut off where the two were joined; the bar itself stays whole.</summary>
    [Theory]
    [InlineData(0, 900)]
    [InlineData(0, 1200)]
    [InlineData(25, 900)]
    [InlineData(20, 1500)]
    public void WhatLeavesABarAtAnAngleIsCutOff(double degrees, double radiusMm)
    {
        List<Vec2> points = [];
        double heading = 0.4 + (degrees * Math.PI / 180);
        Vec2 at = new(0, 0);
        for (int i = 0; i < 140; i++)
        {
            points.Add(at);
            heading -= i == 40 ? degrees * Math.PI / 180 : i > 40 ? 10 / radiusMm : 0;
            at += new Vec2(Math.Cos(heading), Math.Sin(heading)) * 10;
        }

        StrokeChain chain = new([Stroke(points, 10, 3)], [0], -1, false);
        TracedBar? start = ChainStart.Bar(chain, 2);
        Assert.NotNull(start);
        Assert.True(start.Curve.Point(0).DistanceTo(degrees > 0 ? points[40] : points[0]) < 100, $"begins at {start.Curve.Point(0)}");
        Assert.True(start.Curve.Point(start.Length).DistanceTo(points[^1]) < 20, $"ends at {start.Curve.Point(start.Length)}");
    }

    /// <summary>Where an edge behind the bar leads the chain aside for a hand's width and back, it is still one bar.</summary>
    [Theory]
    [InlineData(900, 18)]
    [InlineData(1200, 18)]
    [InlineData(1500, -18)]
    public void WhatLeavesABarAndComesBackDoesNotEndIt(double radiusMm, double asideMm)
    {
        List<Vec2> points = [];
        List<Vec2> bar = [];
        double heading = 0.4;
        Vec2 at = new(0, 0);
        for (int i = 0; i < 140; i++)
        {
            Vec2 way = new(Math.Cos(heading), Math.Sin(heading));
            bar.Add(at);
            points.Add(at + (way.Perpendicular * (asideMm * Math.Max(0, 1 - (Math.Abs(i - 60) / 9.0)))));
            heading -= 10 / radiusMm;
            at += way * 10;
        }

        TracedBar? start = ChainStart.Bar(new StrokeChain([Stroke(points, 10, 3)], [0], -1, false), 2);
        Assert.NotNull(start);
        Assert.True(start.Curve.Point(0).DistanceTo(bar[0]) < 20, $"begins at {start.Curve.Point(0)}");
        Assert.True(start.Curve.Point(start.Length).DistanceTo(bar[^1]) < 20, $"ends at {start.Curve.Point(start.Length)}");
    }

    /// <summary>A thread of gloss along a bent bar, of one width, is looked at on the photo, too, though a short bar that tapers scores better.</summary>
    [Fact]
    public void ALongBentChainIsKeptThoughItDoesNotTaper()
    {
        List<Vec2> bent = [.. Enumerable.Range(0, 121).Select(i => i / 100.0).Select(a => new Vec2(1000 * Math.Sin(a), 1000 * Math.Cos(a)))];
        List<Vec2> other = [.. Enumerable.Range(0, 41).Select(i => i / 100.0).Select(a => new Vec2(1000 * Math.Sin(a), -500 + (1000 * Math.Cos(a))))];
        List<StrokeChain> chains = ChainSearch.Find([Stroke(bent, 3.2, 3.1), Stroke(other, 9, 3)], 160, 4, 0.35, false);
        Assert.Equal(2, chains.Count);
        Assert.True(chains[0].Score > chains[1].Score);
        Assert.True(chains[1].Promise > chains[0].Promise);
        Assert.InRange(chains[1].StrokesMm, 1190, 1210); // the arc that was drawn: 1000 mm times 1.2 rad
    }

    private static BarStroke Stroke(List<Vec2> points, double from, double to)
    {
        double[] widths = [.. points.Select((_, i) => from + ((to - from) * i / (points.Count - 1)))];
        double length = Enumerable.Range(1, points.Count - 1).Sum(i => points[i].DistanceTo(points[i - 1]));
        return new BarStroke(points, widths, 40, length);
    }
}

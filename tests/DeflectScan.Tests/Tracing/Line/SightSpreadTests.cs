using DeflectScan.Tracing.Line;
using MathNet.Numerics.Distributions;

namespace DeflectScan.Tests.Tracing.Line;

/// <summary>Checked against the normal distribution that the sights are drawn from.</summary>
public class SightSpreadTests
{
    /// <summary>The scatter is a share of what is stated; a straight line through the sights is not scatter, and a few wild ones hardly count.</summary>
    [Theory]
    [InlineData(0.3, 60)]
    [InlineData(0.3, 200)]
    [InlineData(2, 60)]
    public void TheScatterIsFoundAboutTheSegmentsOwnLine(double share, int sights)
    {
        Random random = new(3);
        OffsetSight[] seen = [.. Enumerable.Range(0, sights).Select(k => new OffsetSight(0, (k + 0.5) / sights, 2 - (3.0 * k / sights) + (share * Normal.Sample(random, 0, 1)), 1))];
        Assert.Equal(share, SightSpread.OfEach(1, seen)[0], 0.2 * share);
        for (int k = 0; k < sights; k += 10)
            seen[k] = seen[k] with { OffsetMm = 50 };
        Assert.Equal(share, SightSpread.OfEach(1, seen)[0], 0.45 * share);
    }

    [Fact]
    public void FewSightsTakeAfterAllAndNoneAtAllAreHeldAtOne()
    {
        Random random = new(4);
        OffsetSight[] many = [.. Enumerable.Range(0, 100).Select(k => new OffsetSight(0, k / 100.0, 0.4 * Normal.Sample(random, 0, 1), 1))];
        OffsetSight[] three = [.. Enumerable.Range(0, 3).Select(k => new OffsetSight(1, k / 2.0, 0, 1))];
        double[] spread = SightSpread.OfEach(3, [.. many, .. three]);
        Assert.InRange(spread[1], 0.8 * spread[0], spread[0]);
        Assert.Equal(1, spread[2]);
    }

    /// <summary>What neighbours have alike does not scatter, and keeps its standard deviation.</summary>
    [Fact]
    public void WhatIsSharedIsNotTakenForCertain()
    {
        Random random = new(5);
        OffsetSight[] shared = [.. Enumerable.Range(0, 100).Select(k => new OffsetSight(0, k / 100.0, 0.3 * Normal.Sample(random, 0, 1), 1, 1))];
        Assert.Equal(1, SightSpread.OfEach(1, shared)[0], 1e-9);
        OffsetSight[] half = [.. shared.Select(s => s with { SharedShare = 0.5 })];
        Assert.Equal(Math.Sqrt((0.09 + 1) / 2), SightSpread.OfEach(1, half)[0], 0.05);
    }
}

using DeflectScan.Geometry;
using DeflectScan.Tracing.Line;
using MathNet.Numerics.Distributions;

namespace DeflectScan.Tests.Tracing.Line;

public class PolylineFitTests
{
    private static readonly Vec2[] Corners = [new(0, 0), new(120, 9), new(260, 0), new(420, -40)];

    /// <summary>A noise-sampling check: the stated covariance is what repeated noise shows; on the way there, no less than it.</summary>
    [Theory]
    [InlineData(true, 0.95, 1.1)]
    [InlineData(false, 0.85, 1.2)]
    public void TheStatedUncertaintyIsWhatNoiseDoes(bool reported, double least, double most)
    {
        CommonError[]? commons = reported ? [new(0, 0), new(0, 0), new(0, 0)] : null;
        Random random = new(7);
        List<double> scaled = [];
        for (int trial = 0; trial < 3000; trial++)
        {
            List<OffsetSight> sights = [];
            for (int segment = 0; segment < Corners.Length - 1; segment++)
            {
                for (int k = 0; k < 20; k++)
                    sights.Add(new OffsetSight(segment, (k + 0.5) / 20, 0.05 * Normal.Sample(random, 0, 1), 0.05));
            }

            scaled.AddRange(ErrorsInSds(PolylineFit.Step(Corners, sights, [], dampingMm: 1000, commons)));
        }

        double sd = Math.Sqrt(scaled.Average(v => v * v));
        Assert.InRange(sd, least, most);
    }

    /// <summary>The same with an offset and a slope that a segment's sights share: repeated draws scatter as the covariance says.</summary>
    [Fact]
    public void WhatSightsShareIsInTheStatedUncertainty()
    {
        const double Noise = 0.02;
        Random random = new(11);
        CommonError[] commons = [new(0.06, 0), new(0.03, 0.05), new(0.06, 0.04)];
        List<double> scaled = [];
        for (int trial = 0; trial < 400; trial++)
        {
            List<OffsetSight> sights = [];
            for (int segment = 0; segment < Corners.Length - 1; segment++)
            {
                (double offset, double slope) = (commons[segment].OffsetMm * Normal.Sample(random, 0, 1), commons[segment].SlopeMm * Normal.Sample(random, 0, 1));
                for (int k = 0; k < 20; k++)
                {
                    double fraction = (k + 0.5) / 20;
                    sights.Add(new OffsetSight(segment, fraction, offset + (slope * Math.Sqrt(3) * ((2 * fraction) - 1)) + (Noise * Normal.Sample(random, 0, 1)), Noise));
                }
            }

            scaled.AddRange(ErrorsInSds(PolylineFit.Step(Corners, sights, [], dampingMm: 1000, commons)));
        }

        Assert.InRange(Math.Sqrt(scaled.Average(v => v * v)), 0.9, 1.15);
    }

    /// <summary>Looks that are all wrong by the same tell how far the rings stand from one another and nothing else: their error does not get into the places.</summary>
    [Fact]
    public void AnErrorThatAllLooksShareStaysOut()
    {
        const double Wrong = 1.5;
        List<OffsetSight> sights = [.. Enumerable.Range(0, 60).Select(k => new OffsetSight(k / 20, ((k % 20) + 0.5) / 20, 0, 0.02))];
        CommonError[] commons = [.. Enumerable.Repeat(new CommonError(0.02, 0), 3)];
        VertexPull[] Pulls(bool shared) => [.. new[] { 1, 2 }.Select(i => new VertexPull(i, new Vec2(1, 0), Wrong, 0.1) { SharesOffset = shared })];
        double Error(bool shared) => PolylineFit.Step(Corners, sights, Pulls(shared), dampingMm: 1000, commons).Vertices.Skip(1).SkipLast(1).Zip(Corners.Skip(1)).Max(v => v.First.DistanceTo(v.Second));
        Assert.InRange(Error(shared: true), 0, 0.2);
        Assert.InRange(Error(shared: false), 0.5, Wrong + 0.1);
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

    // Of the inner corners, along x and along y.
    private static IEnumerable<double> ErrorsInSds(PolylineSolution solution)
    {
        for (int i = 1; i < Corners.Length - 1; i++)
        {
            (double along, double across) = RingReport.Uncertainty(solution, i, new Vec2(1, 0));
            Vec2 moved = solution.Vertices[i] - Corners[i];
            yield return moved.X / along;
            yield return moved.Y / across;
        }
    }
}

using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Blank;
using OpenCvSharp;

namespace DeflectScan.Tests.Tracing.Blank;

/// <summary>A person's marks, and photos without a rod.</summary>
public class AxisMarksTests
{
    private const string Name = "wall-shadow";

    [Fact]
    public void AMarkedTipSetsWhereTheAxisStarts()
    {
        Truth truth = Repository.Truth(Name);
        TruthSample mark = truth.Blank.Samples[^11]; // 50 mm from the tip
        Outcome<BlankAxis> outcome = Trace(truth, new AxisOptions { TipMarkPx = new Vec2(mark.U, mark.V) });
        Assert.False(outcome.IsRefused);
        Assert.True(outcome.Value.Curve.Point(0).DistanceTo(new Vec2(mark.X, mark.Y)) < 0.5);
    }

    [Fact]
    public void AMarkWhereNoBarRunsIsRefused()
    {
        Truth truth = Repository.Truth(Name);
        Outcome<BlankAxis> outcome = Trace(truth, new AxisOptions { BlankMarksPx = [new Vec2(2000, 1500)] });
        Assert.True(outcome.IsRefused);
        Assert.Equal(FindingCode.RodNotFound, outcome.Findings[0].Code);
    }

    [Fact]
    public void ABareWallHasNoRod()
    {
        Truth truth = Repository.Truth(Name);
        using Mat wall = new(3024, 4032, MatType.CV_8UC3, Scalar.All(170));
        using Mat grain = new(wall.Size(), MatType.CV_8UC3);
        Cv2.SetTheRNG(3);
        Cv2.Randn(grain, Scalar.All(20), Scalar.All(4));
        Mat noisy = wall + grain;
        using UprightPhoto photo = AxisTruth.Wrap(noisy);
        Outcome<BlankAxis> outcome = AxisTracer.Trace(photo, truth.RodPlane(), new AxisOptions());
        Assert.True(outcome.IsRefused);
        Assert.Equal(FindingCode.RodNotFound, outcome.Findings[0].Code);
    }

    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void TheSamePhotoGivesTheSameAxisToTheLastBit()
    {
        Truth truth = Repository.Truth(Name);
        using UprightPhoto photo = AxisTruth.Open(Name);
        BlankAxis[] axes = [.. Enumerable.Range(0, 2).Select(_ =>
            AxisTracer.Trace(photo, truth.RodPlane(), new AxisOptions()).Value!)];
        foreach (BlankAxis axis in axes)
        {
            Assert.Equal(axes[0].Curve.Knots, axis.Curve.Knots);
            Assert.Equal(axes[0].DiametersMm, axis.DiametersMm);
            Assert.Equal(axes[0].NormalSdMm, axis.NormalSdMm);
        }
    }

    private static Outcome<BlankAxis> Trace(Truth truth, AxisOptions options)
    {
        using UprightPhoto photo = AxisTruth.Open(Name);
        return AxisTracer.Trace(photo, truth.RodPlane(), options);
    }
}

using DeflectScan.Findings;
using DeflectScan.Scenes;
using DeflectScan.Tracing;

namespace DeflectScan.Tests.Tracing.Blank;

/// <summary>Against the exact shapes of the rendered photographs in testimages.</summary>
public class AxisTracerTests
{
    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("casting-top")]
    [InlineData("yaw12")]
    public void TheAxisOfAGoodPhotoLiesWhereTheBlankIs(string name)
    {
        Truth truth = Repository.Truth(name);
        Outcome<BlankAxis> outcome = AxisTruth.Trace(name);
        Assert.False(outcome.IsRefused);
        Assert.Empty(outcome.Findings);
        (double[] axisPx, double[] diameterMm) = AxisTruth.Errors(outcome.Value, truth, truth.RodPlane(), p => p);
        Assert.True(AxisTruth.Share(axisPx, 0.5) <= 0.1, $"median {AxisTruth.Share(axisPx, 0.5):0.000} px");
        Assert.True(AxisTruth.Share(axisPx, 0.95) <= 0.4, $"95 % {AxisTruth.Share(axisPx, 0.95):0.000} px");
        Assert.True(AxisTruth.Share(diameterMm, 0.95) <= 0.2, $"diameter 95 % {AxisTruth.Share(diameterMm, 0.95):0.000} mm");
        double bare = truth.Blank.LengthMm - truth.Blank.VisibleFromSMm;
        Assert.InRange(outcome.Value.HandleStationMm, bare - 40, bare + 20);
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData("clutter-bench")]
    [InlineData("wall-shadow")]
    [InlineData("one-card")]
    [InlineData("rotated-exif")]
    [InlineData("thin-braid")]
    public void TheAxisOfAGoodPhotoLiesWhereTheBlankIsMore(string name) => TheAxisOfAGoodPhotoLiesWhereTheBlankIs(name);

    [Fact]
    public void ATipOutsideTheFrameIsRefused()
    {
        Outcome<BlankAxis> outcome = AxisTruth.Trace("bad-tip-cropped");
        Assert.True(outcome.IsRefused);
        Assert.Contains(outcome.Findings, f => f.Code == FindingCode.TipOutsideFrame);
    }
}

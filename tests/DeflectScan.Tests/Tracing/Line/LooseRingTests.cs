using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Scenes;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Tests.Tracing.Line;

/// <summary>A ring whose place along the blank the line hardly tells is put up for review, with how loose it is.</summary>
public class LooseRingTests
{
    private static readonly BlankAxis Axis = TruthAxis.Of(Repository.Truth("clean-spinning"));

    [Theory]
    [InlineData(false, 4, 0)]
    [InlineData(false, 11, 1)]
    [InlineData(true, 4, 0)]
    [InlineData(true, 6, 1)]
    public void ALooseRingIsPutUpForReview(bool isTip, double alongSdMm, int findings)
    {
        Finding[] found = [.. RingReport.Loose([Ring(isTip, alongSdMm)], Axis, isTipSeen: true)];
        Assert.Equal(findings, found.Length);
        Assert.All(found, f => Assert.Contains($"{2 * alongSdMm:0} mm", f.Message, StringComparison.Ordinal));
        Assert.All(found, f => Assert.Equal(Severity.Review, f.Severity));
    }

    /// <summary>Where the hanging line was not seen, that is what is said.</summary>
    [Fact]
    public void ATipWithoutItsHangingLineIsNotReportedTwice() => Assert.Empty(RingReport.Loose([Ring(isTip: true, 20)], Axis, isTipSeen: false));

    private static RingSighting Ring(bool isTip, double alongSdMm) =>
        new(Axis.Curve.Point(isTip ? 0 : 300) + (Axis.Curve.Normal(isTip ? 0 : 300) * 9), alongSdMm, 0.1, null, isTip, Source.Traced);
}

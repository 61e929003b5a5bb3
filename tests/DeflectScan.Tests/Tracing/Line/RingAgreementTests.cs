using DeflectScan.Geometry;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tests.Tracing.Line;

/// <summary>What line and reading say of each other. Birge's ratio (1932, from memory), worked by hand.</summary>
public class RingAgreementTests
{
    private static readonly RingPlace Read = new(400, 9, RingChoice.ReadAlongSdMm, RingChoice.ReadAcrossSdMm, Source.Traced);

    /// <summary>Within two common standard deviations the line's place stands as it is; farther apart the difference is uncertain, but for what the reading leaves open.</summary>
    [Theory]
    [InlineData(1.0, 3.5, 1.5, 1.0)]
    [InlineData(1.0, 5.0, 3.0, 1.0)]
    [InlineData(1.0, 8.5, 1.5, 8.3666)]
    [InlineData(0.2, 5.0, 1.5, 4.7697)]
    public void What_lies_between_line_and_reading_is_uncertain(double along, double apart, double readSd, double expected) =>
        Assert.Equal(expected, RingAgreement.OpenToo(along, apart, readSd), 1e-3);

    /// <summary>A line that hardly turns leaves a ring open by centimetres; that it was read there does not.</summary>
    [Fact]
    public void ARingIsWhereItWasRead()
    {
        Assert.Equal(Math.Sqrt((0.9 * 0.9) + (0.5 * 0.5)), RingAgreement.Along(6, 0.5, Read), 1e-9);
        Assert.Equal(0.3, RingAgreement.Along(0.3, 0.5, Read), 1e-9);
    }

    /// <summary>A halo's edge 0.8 mm beside all rings, which the line's own scatter calls sure to 0.1 mm.</summary>
    [Fact]
    public void ALineBesideAllRingsIsNotSure()
    {
        RingAgreement beside = new([.. Enumerable.Range(0, 8).Select(_ => new Vec2(0, 0.8))]);
        Assert.InRange(beside.Across(0.1, 0.8, Read), 0.8, 1.01);
        Assert.InRange(beside.Across(0.1, 0.3, Read), 0.6, 0.8); // nor where one ring happens to agree
        RingAgreement scattered = new([.. Enumerable.Range(0, 8).Select(i => new Vec2(0, i % 2 == 0 ? 0.25 : -0.25))]);
        Assert.Equal(0.1, scattered.Across(0.1, 0.25, Read), 1e-9);
    }

    /// <summary>Two rings can be off alike by chance.</summary>
    [Fact]
    public void TwoRingsTellNothingInCommon() => Assert.Equal(0.1, new RingAgreement([new Vec2(0, 0.4), new Vec2(0, 0.4)]).Across(0.1, 0.4, Read), 1e-9);
}

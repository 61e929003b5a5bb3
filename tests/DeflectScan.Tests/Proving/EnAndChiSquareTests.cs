using DeflectScan.Proving;
using DeflectScan.Scenes.Samples;
using MathNet.Numerics.Distributions;

namespace DeflectScan.Tests.Proving;

/// <summary>E_n against a published worked example, chi-square against MathNet's distributions and by hand.</summary>
public class EnAndChiSquareTests
{
    /// <summary>
    /// NIST Dataplot's reference manual, "ISO 13528 EN SCORE" (itl.nist.gov/div898/software/dataplot/refman2/auxillar/enscore.htm), its printed output for the
    /// gears of batch 1: assigned value 1, uncertainties twice the standard deviation of the batch (0.00435) and of all (0.00628).
    /// </summary>
    [Theory]
    [InlineData(1.006, 0.393)]
    [InlineData(0.996, 0.262)]
    [InlineData(0.998, 0.131)]
    [InlineData(1.000, 0.000)]
    public void EnIsThatOfThePublishedExample(double lab, double en)
    {
        ComparedReading r = new(new HandReading(ReadingKind.Station, 1, null, lab, 2 * 0.00435), 1, 2 * 0.00628);
        Assert.Equal(en, r.En, 0.0006);
    }

    /// <summary>
    /// The sample's stations have variances 0.49 and 0.3025 and covariance 0.3 mm²; with readings to 1 mm (0.25 mm² each) and differences of 1.2 and -0.4 mm, chi-square
    /// is by hand (1.2² 0.5525 + 0.4² 0.74 + 2 · 1.2 · 0.4 · 0.3) / (0.74 · 0.5525 - 0.3²).
    /// </summary>
    [Fact]
    public void ChiSquareTakesTheFiguresCorrelations()
    {
        ProofReport p = ProofRule.Of(SampleMeasurement.Ok, [Station(1, 402 + 1.2), Station(2, 215.25 - 0.4)]).Value!;
        double byHand = ((1.44 * 0.5525) + (0.16 * 0.74) + (2 * 1.2 * 0.4 * 0.3)) / ((0.74 * 0.5525) - 0.09);
        Assert.Equal(byHand, p.ChiSquare, 9);
        Assert.Equal(1 - ChiSquared.CDF(2, byHand), p.Probability, 12);
        Assert.Equal(Math.Exp(-byHand / 2), p.Probability, 9); // two degrees of freedom: the exponential law
    }

    /// <summary>A distance between guides has the difference's variance: 0.49 + 0.3025 - 0.6 = 0.1925 mm², U = 0.8775 mm.</summary>
    [Fact]
    public void ADistanceBetweenGuidesHasTheDifferencesUncertainty()
    {
        ComparedReading r = ProofRule.Of(SampleMeasurement.Ok, [new HandReading(ReadingKind.Station, 1, 2, 187, 1)]).Value!.Readings[0];
        Assert.Equal((186.75, 2 * Math.Sqrt(0.1925)), (r.PhotoMm, r.PhotoUncertaintyMm));
        Assert.Equal(0.25 / Math.Sqrt(1 + (4 * 0.1925)), r.En, 12);
    }

    /// <summary>Three readings of one thing: mean 10.1; Student's 4.303 times 0.1 over the root of 3 is 0.248, with the stated 0.3 in squares 0.389.</summary>
    [Fact]
    public void RepeatedReadingsArePutTogether()
    {
        HandReading[] three = [.. new[] { 10.0, 10.1, 10.2 }.Select(mm => new HandReading(ReadingKind.Gap, 2, null, mm, 0.3))];
        ComparedReading r = Assert.Single(ProofRule.Of(SampleMeasurement.Ok, three).Value!.Readings);
        Assert.Equal(10.1, r.Reading.Mm, 9);
        Assert.Equal(0.389, r.Reading.UncertaintyMm, 0.001);
    }

    [Fact]
    public void RoughReadingsAreSaidToProveNothing()
    {
        ProofReport rough = ProofRule.Of(SampleMeasurement.Ok, [Station(1, 404, 20), Station(2, 212, 20), new HandReading(ReadingKind.Gap, 1, 2, 28, 10)]).Value!;
        Assert.Equal(ProofVerdict.TooRough, rough.Verdict);
        Assert.Contains("too rough to prove anything", rough.Says[0], StringComparison.Ordinal);
        ProofReport few = ProofRule.Of(SampleMeasurement.Ok, [Station(1, 402.1), Station(2, 215)]).Value!;
        Assert.Equal(ProofVerdict.TooRough, few.Verdict);
        Assert.Contains("Too few", few.Says[0], StringComparison.Ordinal);
        ProofReport good = ProofRule.Of(SampleMeasurement.Ok, [Station(1, 402.1), Station(2, 215.1), new HandReading(ReadingKind.Gap, 1, 2, 27.2, 0.3)]).Value!;
        Assert.Equal(ProofVerdict.Agree, good.Verdict);
    }

    /// <summary>What cannot be held against the photo is refused with a sentence.</summary>
    [Fact]
    public void ReadingsOfNothingInThePhotoAreRefused()
    {
        Assert.Contains("2 guides", Refusal(SampleMeasurement.Ok, Station(5, 700)), StringComparison.Ordinal);
        Assert.Contains("between neighbours", Refusal(SampleMeasurement.Ok, new HandReading(ReadingKind.Gap, 1, null, 20, 0.3)), StringComparison.Ordinal);
        Assert.Contains("correlations", Refusal(SampleMeasurement.Ok with { Covariance = null }, Station(1, 402)), StringComparison.Ordinal);
        Assert.Contains("no stations", Refusal(SampleMeasurement.Refused, Station(1, 402)), StringComparison.Ordinal);
        FigureCovariance none = new([[0.01], [5, 0.01], [0, 0, 0.01], [0, 0, 0, 0.01]], []);
        Assert.Contains("covariance is none", Refusal(SampleMeasurement.Ok with { Covariance = none }, Station(1, 402), Station(2, 215)), StringComparison.Ordinal);
    }

    private static string Refusal(Measurement m, params HandReading[] readings) => ProofRule.Of(m, readings).Findings[0].Message;

    private static HandReading Station(int guide, double mm, double uncertainty = 1) => new(ReadingKind.Station, guide, null, mm, uncertainty);
}

using DeflectScan.Findings;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Reading;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tests.Tracing.Rings;

/// <summary>A doubt is said once a cause, with the places where a person should look; where all is sure nothing is.</summary>
public class RingDoubtsTests
{
    private const double Certain = 0.9999;

    [Fact]
    public void A_plain_reading_is_not_doubted() =>
        Assert.Empty(Of([In(100, Certain), In(200, Certain), Out(150, 0.0002)]));

    [Fact]
    public void Ring_and_place_in_doubt_are_named_in_one_sentence_from_the_tip_on()
    {
        Finding found = Assert.Single(Of([In(600, 0.9), In(100, Certain), Out(250, 0.2), In(400, 0.97)]));
        Assert.Equal((FindingCode.GuidesUncertain, Severity.Review), (found.Code, found.Severity));
        Assert.Contains(" 250, 400, 600 mm from the tip", found.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("100", found.Message, StringComparison.Ordinal);
    }

    /// <summary>The bar is one rod in two hundred, whether one place or two together bring the doubt.</summary>
    [Theory]
    [InlineData(0.99, 1)]
    [InlineData(0.997, 0)]
    public void Sure_is_what_all_together_are(double probability, int findings)
    {
        Assert.Equal(findings, Of([In(100, probability)]).Length);
        double each = Math.Pow(probability, 0.5);
        Assert.Equal(findings, Of([In(100, each), Out(200, 1 - each)]).Length);
    }

    /// <summary>Where one guide may be read at two places the two exclude each other: one doubt, of one place, and not a second one of the same.</summary>
    [Theory]
    [InlineData(0.996, 0)]
    [InlineData(0.99, 1)]
    public void Two_readings_of_one_guide_are_one_doubt(double probability, int findings)
    {
        Finding[] found = Of([In(300, probability), Out(301, 1 - probability), In(500, Certain)]);
        Assert.Equal(findings, found.Length);
        Assert.All(found, f => Assert.Contains(" 300 mm from the tip", f.Message, StringComparison.Ordinal));
    }

    [Fact]
    public void No_more_than_six_places_are_named_and_those_the_least_sure()
    {
        string message = Assert.Single(Of([.. Enumerable.Range(1, 9).Select(i => In(100 * i, 0.9 + (0.01 * i)))])).Message;
        Assert.Contains(" 100, 200, 300, 400, 500, 600 mm", message, StringComparison.Ordinal);
        Assert.DoesNotContain("700", message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_place_beyond_the_end_is_not_said_to_be_before_it() =>
        Assert.Contains("stands 0 mm from the tip", Assert.Single(Of([In(-4, 0.8)])).Message, StringComparison.Ordinal);

    [Fact]
    public void What_a_person_marked_or_counted_is_not_doubted()
    {
        Assert.Empty(Of([In(300, 0.8)], told: [296]));
        Assert.Single(Of([In(300, 0.8)], told: [280]));
        Assert.Empty(Of([In(300, 0.8), Out(500, 0.4)], complete: true));
    }

    [Fact]
    public void The_side_in_doubt_is_said_unless_it_was_told()
    {
        Finding side = Assert.Single(Of([In(100, Certain)], side: 0.99));
        Assert.Contains("say which and check the rings", side.Message, StringComparison.Ordinal);
        Assert.Equal(Severity.Review, side.Severity);
        Assert.Empty(Of([In(100, Certain)], side: 0.99, sideIsTold: true));
        Assert.Empty(Of([In(100, Certain)], side: 0.99, told: [400]));
        Assert.Empty(Of([In(100, Certain)], side: 0.996));
        Assert.Equal(2, Of([In(100, 0.7)], side: 0.7).Length);
    }

    /// <summary>A blank whose end was not seen ends at a guide, which then reads as one.</summary>
    [Theory]
    [InlineData(0.02, Source.Traced, 1)]
    [InlineData(0.002, Source.Traced, 0)]
    [InlineData(0.02, Source.Marked, 0)]
    public void A_tip_top_that_may_be_a_guide_is_put_up_for_review(double probability, Source source, int findings)
    {
        DecodedRings decoded = new(true, [], null, 1, [In(100, Certain)]) { TipIsGuide = probability };
        Finding[] found = [.. RingDoubts.Of(new RingChoice(true, [new RingPlace(0, 3, 1, 1, source)], true, decoded, [], false, []), true)];
        Assert.Equal(findings, found.Length);
        Assert.All(found, f => Assert.Contains("goes on beyond it", f.Message, StringComparison.Ordinal));
    }

    private static Finding[] Of(
        IReadOnlyList<WeighedPlace> places, double side = 1, bool sideIsTold = false, IReadOnlyList<double>? told = null, bool complete = false)
    {
        DecodedRings decoded = new(true, [.. places.Where(p => p.InUse).Select(p => p.Place)], null, side, places);
        return [.. RingDoubts.Of(new RingChoice(true, [], true, decoded, told ?? [], complete, []), sideIsTold)];
    }

    private static WeighedPlace In(double station, double probability) => new(new RingCandidate(station, 9, 0), true, probability);

    private static WeighedPlace Out(double station, double probability) => new(new RingCandidate(station, 9, 0), false, probability);
}

using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Scenes;
using DeflectScan.Tracing;

namespace DeflectScan.Tests.Pipeline;

/// <summary>What a person tells besides the photo is obeyed, and a contradiction is never passed over.</summary>
[Collection(Measured.Collection)]
public class HintTests
{
    private const string Name = "one-card";
    private const string Uneven = "thin-braid";

    private static readonly Truth Truth = Repository.Truth(Name);

    private static readonly Lazy<Measurement> Hinted = new(() => Measure(new MeasureOptions
    {
        BlankLengthMm = Truth.Blank.LengthMm,
        FirstGuideFromReelMm = Truth.Guides[0].FromReelMm,
        GuideCount = Truth.Guides.Count - 1,
    }));

    [Fact]
    public void True_length_and_guide_count_leave_it_ok() => Assert.Equal(MeasurementStatus.Ok, Hinted.Value.Status);

    [Theory]
    [InlineData(0.94)]
    [InlineData(1.06)]
    public void Length_that_the_photo_contradicts_goes_to_review(double factor)
    {
        Measurement m = Measure(new MeasureOptions { BlankLengthMm = Truth.Blank.LengthMm * factor });
        Assert.Equal(MeasurementStatus.NeedsReview, m.Status);
        Assert.Contains("card-off-plane", Measured.Codes(m));
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(1)]
    public void Guide_count_that_the_photo_contradicts_goes_to_review(int more)
    {
        Measurement m = Measure(new MeasureOptions { GuideCount = Truth.Guides.Count - 1 + more });
        Assert.Equal(MeasurementStatus.NeedsReview, m.Status);
        Assert.Contains("guides-uncertain", Measured.Codes(m));
    }

    [Fact]
    public void Taped_distance_of_the_first_guide_places_the_rest_from_the_reel()
    {
        Measurement m = Hinted.Value;
        Assert.Equal(Truth.Guides[0].FromReelMm, m.Guides[0].FromReelMm!.Value, 1e-9);
        Assert.All(m.Guides, g => Assert.Equal(m.Guides[0].StationMm - g.StationMm, g.FromReelMm!.Value - m.Guides[0].FromReelMm!.Value, 1e-9));
        Assert.All(m.Guides.Zip(Truth.Guides), p => Assert.InRange(
            Math.Abs(p.First.FromReelMm!.Value - p.Second.FromReelMm), 0, 3 + (0.01 * p.Second.FromTipMm)));
    }

    /// <summary>A tape along the blank moves axis, stations and suggestion together; it is the truth here, so all come nearer to it.</summary>
    [Fact]
    public void What_was_taped_along_the_blank_moves_everything_together()
    {
        Truth truth = Repository.Truth("one-card");
        double between = truth.Guides[0].FromTipMm - truth.Guides[^2].FromTipMm;
        Measurement seen = Measured.Photo("one-card");
        Measurement taped = MeasurePipeline.Measure(
            Repository.Photo("one-card"), new MeasureOptions { Taped = [new TapedDistance(1, truth.Guides.Count - 1, between - 2, 0.5)] });
        double Span(Measurement m) => m.Guides[0].StationMm - m.Guides[^2].StationMm;
        Assert.InRange(Span(taped), between - 2.5, between - 1.5);
        double shrunk = Span(taped) / Span(seen);
        Assert.Equal(shrunk, taped.Blank!.TracedLengthMm / seen.Blank!.TracedLengthMm, 0.002);
        Assert.Equal(shrunk, taped.Calibration!.MmPerPx / seen.Calibration!.MmPerPx, 0.002);
        Assert.Equal(taped.Intervals.Max(i => i.BowMm), taped.Suggestion!.BowBeforeMm, 1e-4); // worked out from the document, which has 4 decimals
        // The axis in the document, walked from guide to guide.
        AxisSample[] between1AndLast = [.. taped.Blank.Axis.Where(a => a.SMm <= taped.Guides[0].StationMm && a.SMm >= taped.Guides[^2].StationMm)];
        double walked = between1AndLast.Zip(between1AndLast.Skip(1)).Sum(p => p.First.Mm.DistanceTo(p.Second.Mm));
        Assert.InRange(Span(taped) - walked, 0, 10.1); // two ends of up to a step of 5 mm
    }

    /// <summary>The reel's front is read from the photo where nothing was taped: what is counted from it holds what is stated.</summary>
    [Fact]
    public void Without_a_taped_distance_what_is_said_from_the_reel_is_read_from_the_photo() => Assert.All(Measured.Photo(Name).Guides.SkipLast(1), g =>
    {
        TruthGuide truth = Truth.Guides.MinBy(t => Math.Abs(t.FromTipMm - g.StationMm))!;
        Assert.InRange(Math.Abs(g.FromReelMm!.Value - truth.FromReelMm), 0, g.FromReelUncertaintyMm!.Value);
        Assert.InRange(g.FromReelUncertaintyMm!.Value, 0.1, 40);
    });

    // Spinning: the first three guides are held unless told otherwise.
    [Fact]
    public void Guides_held_are_not_moved_and_guides_let_go_are()
    {
        SuggestionReport usual = Measured.Photo(Uneven).Suggestion!;
        SuggestionReport loose = Suggestion(2);
        SuggestionReport fast = Suggestion(6);
        Assert.NotEmpty(usual.Moves);
        Assert.All(usual.Moves, m => Assert.InRange(m.Guide, 4, 30));
        Assert.Contains(loose.Moves, m => m.Guide is 3 && Math.Abs(m.ToMm - m.FromMm) > 1);
        Assert.DoesNotContain(loose.Moves, m => m.Guide <= 2);
        Assert.True(loose.BowAfterMm <= usual.BowAfterMm);
        Assert.All(fast.Moves, m => Assert.InRange(m.Guide, 7, 30));

        static SuggestionReport Suggestion(int held) =>
            MeasurePipeline.Measure(Repository.Photo(Uneven), new MeasureOptions { HoldGuides = held }).Suggestion!;
    }

    private static Measurement Measure(MeasureOptions options) => MeasurePipeline.Measure(Repository.Photo(Name), options);
}

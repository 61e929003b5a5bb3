using DeflectScan.Accuracy.Compare;
using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Tracing;

namespace DeflectScan.Tests.Pipeline;

/// <summary>The reel's front against the place at which photos and scenes were rendered; what a person says of it comes first.</summary>
[Collection(Measured.Collection)]
public class ReelFrontTests
{
    private const string Name = "clean-spinning";

    private static readonly Truth Truth = Repository.Truth(Name);

    private static readonly SceneOptions Small = new() { Seed = 11, WidthPx = 2592, HeightPx = 1944, LineMm = 0.4 };

    /// <summary>Photos whose reel is recognised; the other ones say nothing, which is checked below.</summary>
    [Fact]
    public void Front_and_distances_from_it_are_right_within_what_is_stated()
    {
        List<(double Error, double Stated)> fronts = [];
        List<(double Error, double Stated)> guides = [];
        List<(double Error, double Stated)> lone = [];
        foreach (string name in Measured.Good)
        {
            Truth truth = Repository.Truth(name);
            Measurement m = Measured.Photo(name);
            if (m.Blank!.Reel!.Source != ReelFrontSource.Read)
                continue;
            fronts.Add((m.Blank.Reel.StationMm!.Value - (truth.Blank.LengthMm - truth.Blank.ReelFrontSMm), m.Blank.Reel.UncertaintyMm!.Value));
            // One card alone leaves the whole scale open by up to 1 %: 5 mm along the blank say nothing of the reel.
            List<(double, double)> into = m.Calibration!.Cards.Count == 1 ? lone : guides;
            into.AddRange(m.Guides.Select(g => (g.FromReelMm!.Value - truth.Guides.MinBy(t => Math.Abs(t.FromTipMm - g.StationMm))!.FromReelMm, g.FromReelUncertaintyMm!.Value)));
        }

        Assert.True(fronts.Count >= Measured.Good.Length / 2, $"{fronts.Count} reels of {Measured.Good.Length} were read");
        Assert.All(fronts, f => Assert.InRange(Math.Abs(f.Error), 0, f.Stated));
        Assert.InRange(Spread.Of([.. guides.Select(g => g.Error)]).P95, 0, 4);
        Assert.InRange(guides.Count(g => Math.Abs(g.Error) <= g.Stated) / (double)guides.Count, 0.95, 1);
        Assert.All(lone, g => Assert.InRange(Math.Abs(g.Error), 0, g.Stated));
    }

    [Fact]
    public void A_reel_that_is_not_read_is_not_said_and_raises_no_doubt()
    {
        Assert.All(Measured.Good.Select(Measured.Photo).Where(m => m.Blank!.Reel!.Source == ReelFrontSource.NotSeen), m =>
        {
            Assert.All(m.Guides, g => Assert.True(g is { FromReelMm: null, FromReelUncertaintyMm: null }));
            Assert.DoesNotContain(m.Findings, f => f.Message.Contains("reel's front", StringComparison.Ordinal));
        });
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData(14, BendSide.Outside)]
    public void A_rod_without_a_reel_has_none_more(int seed, BendSide side) => A_rod_without_a_reel_has_none(seed, side);

    [Theory]
    [InlineData(11, BendSide.Inside)]
    public void A_rod_without_a_reel_has_none(int seed, BendSide side)
    {
        Measurement bare = Measured.Scene(Small with { Seed = seed, Side = side, Guides = 8, Build = new BuildOptions { Reel = ReelKind.None } }).Measurement;
        Assert.NotEqual(MeasurementStatus.Refused, bare.Status);
        Assert.Equal(new ReelFrontReport(ReelFrontSource.NotSeen, null, null), bare.Blank!.Reel);
        Assert.All(bare.Guides, g => Assert.Null(g.FromReelMm));

        ReelKind kind = side == BendSide.Inside ? ReelKind.Spinning : ReelKind.Casting;
        MeasuredScene reel = Measured.Scene(Small with { Seed = seed, Side = side, Guides = 8, Build = new BuildOptions { Reel = kind } });
        ReelFrontReport front = reel.Measurement.Blank!.Reel!;
        Assert.Equal(ReelFrontSource.Read, front.Source);
        Assert.InRange(Math.Abs(front.StationMm!.Value - (reel.Truth.Blank.LengthMm - reel.Truth.Blank.ReelFrontSMm)), 0, front.UncertaintyMm!.Value);
    }

    [Fact]
    public void A_tape_comes_before_a_mark_and_both_before_the_reading()
    {
        ReelFrontReport read = Measured.Photo(Name).Blank!.Reel!;
        Vec2 mark = Truth.Blank.Samples.Where(s => s.S >= Truth.Blank.ReelFrontSMm).Select(s => new Vec2(s.U, s.V)).First();
        Marks marks = MeasureOptions.Default.Marks with { ReelFrontPx = mark };
        Measurement marked = Measure(MeasureOptions.Default with { Marks = marks });
        Measurement taped = Measure(MeasureOptions.Default with { Marks = marks, FirstGuideFromReelMm = Truth.Guides[0].FromReelMm + 1 });
        Assert.Equal(ReelFrontSource.Read, read.Source);
        Assert.Equal((ReelFrontSource.Marked, ReelFrontSource.Taped), (marked.Blank!.Reel!.Source, taped.Blank!.Reel!.Source));
        Assert.Equal(Truth.Guides[0].FromReelMm + 1, taped.Guides[0].FromReelMm!.Value, 1e-9);
        Assert.InRange(Math.Abs(marked.Guides[0].FromReelMm!.Value - Truth.Guides[0].FromReelMm), 0, marked.Guides[0].FromReelUncertaintyMm!.Value);
        Assert.Equal((MeasurementStatus.Ok, MeasurementStatus.Ok), (marked.Status, taped.Status));
    }

    [Fact]
    public void A_tape_that_contradicts_the_photo_goes_to_review_and_is_used()
    {
        GuideReport first = Measured.Photo(Name).Guides[0];
        double read = first.FromReelMm!.Value;
        double wrong = Math.Round(read + (2 * first.FromReelUncertaintyMm!.Value)); // four standard uncertainties: past chance
        Measurement m = Measure(MeasureOptions.Default with { FirstGuideFromReelMm = wrong });
        Assert.Equal(MeasurementStatus.NeedsReview, m.Status);
        string message = Assert.Single(m.Findings, f => f.Message.Contains("reel's front", StringComparison.Ordinal)).Message;
        Assert.Contains($"{wrong:0.0} mm", message);
        Assert.Contains($"{read:0.0} mm as read", message);
        Assert.Contains("check the taped distance from the reel's front", message);
        Assert.Equal(wrong, m.Guides[0].FromReelMm!.Value, 1e-9);
    }

    private static Measurement Measure(MeasureOptions options) => MeasurePipeline.Measure(Repository.Photo(Name), options);
}

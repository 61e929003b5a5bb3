using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Pipeline;

/// <summary>What a person placed is there, and only measuring is left: against the exact contacts of rendered photographs, every mark off by a hand's error.</summary>
[Collection(Measured.Collection)]
public class MarksObeyedTests
{
    private const double HandPx = 3;

    public static TheoryData<string> Rods => ["clean-spinning", "casting-top", "one-card"];

    [Theory]
    [MemberData(nameof(Rods))]
    [InlineData("clutter-bench")]
    public void Rings_marked_as_complete_are_the_guides_and_no_others(string name)
    {
        Truth truth = Repository.Truth(name);
        Measurement m = Measure(name, Marks.None with { RingsPx = Shaky(truth.Guides, seed: 1), IsComplete = true });
        Agrees(truth.Guides, m);
        Assert.Equal(MeasurementStatus.Ok, m.Status);
    }

    [Theory]
    [MemberData(nameof(Rods))]
    public void The_tip_tops_mark_may_be_left_out(string name)
    {
        Truth truth = Repository.Truth(name);
        Measurement m = Measure(name, Marks.None with { RingsPx = Shaky(truth.Guides.SkipLast(1), seed: 2), IsComplete = true });
        Agrees(truth.Guides, m);
        Assert.Equal(MeasurementStatus.Ok, m.Status);
    }

    /// <summary>Without the flag a ring that was read stays where no mark is.</summary>
    [Fact]
    public void A_ring_left_unmarked_stays_unless_the_marks_are_complete()
    {
        const string Name = "clean-spinning";
        Truth truth = Repository.Truth(Name);
        TruthGuide left = truth.Guides[4];
        Vec2[] marks = Shaky(truth.Guides.Where(g => g != left), seed: 3);
        Agrees(truth.Guides, Measure(Name, Marks.None with { RingsPx = marks }));
        Agrees([.. truth.Guides.Where(g => g != left)], Measure(Name, Marks.None with { RingsPx = marks, IsComplete = true }));
    }

    /// <summary>A person may want every other ring alone: obeyed, even where others are plain to see.</summary>
    [Fact]
    public void Few_rings_marked_as_complete_are_all_there_are()
    {
        Truth truth = Repository.Truth("casting-top");
        TruthGuide[] some = [.. truth.Guides.Where((_, i) => i % 2 == 0 || i == truth.Guides.Count - 1)];
        Agrees(some, Measure("casting-top", Marks.None with { RingsPx = Shaky(some, seed: 4), IsComplete = true }));
    }

    /// <summary>No card, no plane, no millimetres: marks do not help there, and nothing else is said.</summary>
    [Fact]
    public void Only_a_photo_without_a_plane_is_refused()
    {
        Truth truth = Repository.Truth("clean-spinning");
        Measurement m = Measure("bad-no-card", Marks.None with { RingsPx = Shaky(truth.Guides, seed: 5), IsComplete = true });
        Assert.Equal(MeasurementStatus.Refused, m.Status);
        Assert.Equal([FindingCode.CardMissing], m.Findings.Where(f => f.Severity == Severity.Refusal).Select(f => f.Code));
    }

    private static Measurement Measure(string name, Marks marks) => MeasurePipeline.Measure(Repository.Photo(name), MeasureOptions.Default with { Marks = marks });

    // Off by up to 3 px in any direction, each direction and distance as likely.
    private static Vec2[] Shaky(IEnumerable<TruthGuide> guides, int seed)
    {
        Random random = new(seed);
        return
        [
            .. guides.Select(g =>
            {
                double angle = random.NextDouble() * 2 * Math.PI;
                double far = random.NextDouble() * HandPx;
                return new Vec2(g.ContactPx[0] + (far * Math.Cos(angle)), g.ContactPx[1] + (far * Math.Sin(angle)));
            }),
        ];
    }

    /// <summary>As many guides, each within what is stated or, where chance takes one in twenty beyond it, within twice that; across the line as near as a hand, along it as the line tells.</summary>
    private static void Agrees(IReadOnlyList<TruthGuide> truth, Measurement m)
    {
        Assert.NotEqual(MeasurementStatus.Refused, m.Status);
        Assert.Equal(truth.Count, m.Guides.Count);
        for (int i = 0; i < truth.Count; i++)
        {
            double off = m.Guides[i].RingPx.DistanceTo(new Vec2(truth[i].ContactPx[0], truth[i].ContactPx[1]));
            Assert.True(off < 2 * HandPx, $"the ring point of guide {i + 1} is {off:0.0} px off");
            double height = Math.Abs(m.Guides[i].HeightMm - truth[i].HeightMm);
            Assert.True(m.Guides[i].IsTip || height <= 2 * m.Guides[i].Height.UncertaintyMm + 0.01, $"guide {i + 1} is {height:0.0} mm too high or low, ± {m.Guides[i].Height.UncertaintyMm:0.0} mm stated");
            double station = Math.Abs(m.Guides[i].StationMm - truth[i].FromTipMm);
            Assert.True(station <= 2 * m.Guides[i].Station.UncertaintyMm + 0.01, $"guide {i + 1} is {station:0.0} mm off, ± {m.Guides[i].Station.UncertaintyMm:0.0} mm stated");
        }
    }
}

using DeflectScan.Scenes;

namespace DeflectScan.Tests.Pipeline;

/// <summary>What holds for every measurement, whatever the photo: the contract's definitions.</summary>
[Collection(Measured.Collection)]
public class ReportShapeTests
{
    public static TheoryData<string> Good => [.. Measured.Good];

    [Theory]
    [MemberData(nameof(Good))]
    public void Gap_is_never_less_than_clearance(string name) =>
        Assert.All(Measured.Photo(name).Intervals, i => Assert.True(i.GapMm >= i.ClearanceMm, $"{i.From}-{i.To}: {i.GapMm} < {i.ClearanceMm}"));

    [Theory]
    [MemberData(nameof(Good))]
    public void Intervals_join_successive_guides(string name)
    {
        Measurement m = Measured.Photo(name);
        Assert.Equal(Enumerable.Range(1, m.Guides.Count), m.Guides.Select(g => g.Index));
        Assert.Equal(m.Guides.Skip(1).Select(g => (g.Index - 1, g.Index)), m.Intervals.Select(i => (i.From, i.To)));
    }

    [Theory]
    [MemberData(nameof(Good))]
    public void Stations_fall_from_reel_to_tip_and_end_at_nought(string name)
    {
        Measurement m = Measured.Photo(name);
        Assert.All(m.Guides.Zip(m.Guides.Skip(1)), pair => Assert.True(pair.First.StationMm > pair.Second.StationMm));
        Assert.Equal(0, m.Guides[^1].StationMm);
        Assert.Equal([m.Guides[^1]], m.Guides.Where(g => g.IsTip));
    }

    [Theory]
    [MemberData(nameof(Good))]
    public void Largest_figures_lie_between_the_guides_that_they_are_of(string name)
    {
        Measurement m = Measured.Photo(name);
        Assert.All(m.Intervals, i =>
        {
            Assert.InRange(i.BowAtMm, m.Guides[i.To - 1].StationMm, m.Guides[i.From - 1].StationMm);
            Assert.Equal(i.ClearanceMm <= 0, i.TouchesBlank);
        });
        Assert.Equal(m.Intervals.Max(i => i.GapMm), m.Intervals.Single(i => i.From == m.Largest!.GapFrom).GapMm);
        Assert.Equal(m.Intervals.Max(i => i.BowMm), m.Intervals.Single(i => i.From == m.Largest!.BowFrom).BowMm);
    }

    // A chord is never longer than its arc; the bare part that is traced is shorter than the whole blank.
    [Theory]
    [MemberData(nameof(Good))]
    public void From_tip_to_butt_the_chord_is_shorter_than_the_trace_and_the_trace_than_the_blank(string name)
    {
        BlankReport blank = Measured.Photo(name).Blank!;
        double chord = blank.Axis[0].Mm.DistanceTo(blank.Axis[^1].Mm);
        Assert.InRange(chord, 0.5 * blank.TracedLengthMm, blank.TracedLengthMm);
        Assert.InRange(blank.TracedLengthMm, chord, Repository.Truth(name).Blank.LengthMm);
    }
}

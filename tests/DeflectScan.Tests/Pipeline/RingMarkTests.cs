using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Scenes;
using DeflectScan.Tracing;

namespace DeflectScan.Tests.Pipeline;

/// <summary>Ring points that a person placed: a ring that was not found is there, one that was seen is not moved by a shaky hand.</summary>
[Collection(Measured.Collection)]
public class RingMarkTests
{
    private const string Name = "clean-spinning";

    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void MarksAFewPixelsOffLeaveRingsWhereTheyWereSeen()
    {
        Measurement plain = Measured.Photo(Name);
        Truth truth = Repository.Truth(Name);
        Measurement marked = Marked([.. truth.Guides.Select((g, i) => new Vec2(g.ContactPx[0], g.ContactPx[1]) + new Vec2(i % 2 == 0 ? 3 : -3, 2))], truth.Guides.Count - 1);
        Assert.Equal(MeasurementStatus.Ok, marked.Status);
        Assert.Equal(plain.Guides.Count, marked.Guides.Count);
        Assert.All(marked.Guides.Zip(plain.Guides), g => Assert.Equal(g.Second.StationMm, g.First.StationMm, 1e-9));
        Assert.All(marked.Guides, g => Assert.Equal(Source.Traced, g.Source));
    }

    [Fact]
    public void AMarkWhereNothingWasFoundIsARingOfItsOwn()
    {
        Measurement plain = Measured.Photo(Name);
        Vec2 a = plain.Guides[3].RingPx;
        Vec2 b = plain.Guides[4].RingPx;
        Measurement marked = Marked([((a + b) * 0.5) + new Vec2(1, 2)], null);
        Assert.Equal(plain.Guides.Count + 1, marked.Guides.Count);
        GuideReport ring = marked.Guides[4];
        Assert.Equal(Source.Marked, ring.Source);
        Assert.InRange(ring.StationMm, plain.Guides[4].StationMm + 30, plain.Guides[3].StationMm - 30);
        Assert.True(ring.Station.UncertaintyMm > 2 * 2.5 * plain.Calibration!.MmPerPx, $"±{ring.Station.UncertaintyMm:0.0} mm is less than a click is good for");
        Assert.All(marked.Guides.Where(g => g.Index != 5), g => Assert.Equal(Source.Traced, g.Source));
    }

    /// <summary>The ring is the marked one, no second beside it; where line and mark contradict each other a person is told, as one of the two is wrong.</summary>
    [Fact]
    public void AMarkThatContradictsAFoundRingIsObeyedOrTheContradictionIsSaid()
    {
        Measurement plain = Measured.Photo(Name);
        Vec2 along = plain.Guides[5].RingPx - plain.Guides[4].RingPx;
        Vec2 mark = plain.Guides[4].RingPx + (along * (14 / along.Length));
        Measurement marked = Marked([mark], null);
        Assert.Equal(plain.Guides.Count, marked.Guides.Count);
        Assert.Equal(Source.Marked, marked.Guides[4].Source);
        if (marked.Guides[4].RingPx.DistanceTo(mark) > 3 * 3)
        {
            Assert.Equal(MeasurementStatus.NeedsReview, marked.Status);
            // Counted from where the blank's trace ends, which is not yet the tip-top's ring.
            Assert.Contains(marked.Findings, f => Enumerable.Range(-12, 25).Any(d => f.Message.Contains($"the ring {marked.Guides[4].StationMm + d:0} mm from the tip", StringComparison.Ordinal)));
        }
    }

    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void AsManyMarksAsGuidesAreAllTheRings()
    {
        Measurement plain = Measured.Photo(Name);
        Vec2[] fewer = [.. plain.Guides.Where(g => g.Index != 4).Select(g => g.RingPx)];
        Measurement marked = Marked(fewer, fewer.Length - 1);
        Assert.Equal(plain.Guides.Count - 1, marked.Guides.Count);
        Assert.DoesNotContain(marked.Guides, g => Math.Abs(g.StationMm - plain.Guides[3].StationMm) < 15);
    }

    [Fact]
    public void AMarkFarFromTheLineIsPutUpForReview()
    {
        Measurement plain = Measured.Photo(Name);
        Measurement marked = Marked([plain.Guides[^1].RingPx + new Vec2(300, -300)], null);
        Assert.Equal(MeasurementStatus.NeedsReview, marked.Status);
        Assert.Contains(marked.Findings, f => f.Message.Contains("check the marks file", StringComparison.Ordinal));
    }

    private static Measurement Marked(IReadOnlyList<Vec2> rings, int? guides) => MeasurePipeline.Measure(
        Repository.Photo(Name), MeasureOptions.Default with { Marks = Marks.None with { RingsPx = rings }, GuideCount = guides });
}

using System.Text.Json;
using DeflectScan.Repeating;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes.Samples;

namespace DeflectScan.Tests.Repeating;

/// <summary>Photos of one set-up put together: made-up measurements with known noise.</summary>
public class RepeatRuleTests
{
    [Fact]
    public void AgreeingPhotosGiveTheirMeanAndNoLessUncertaintyThanOne()
    {
        RepeatReport report = Combine([Shifted("a.jpg", -0.1), Shifted("b.jpg", 0.1), Shifted("c.jpg", 0)]);
        Assert.Equal(MeasurementStatus.Ok, report.Status);
        RepeatedFigure gap = report.Figures.First(f => f.Name == "gap");
        Assert.Equal(SampleMeasurement.Ok.Intervals[0].GapMm, gap.ValueMm, 9);
        Assert.Equal(0.1, gap.SpreadMm!.Value, 9);
        Assert.True(gap.UncertaintyMm >= SampleMeasurement.Ok.Intervals[0].Gap.UncertaintyMm - 1e-9);
        Assert.Equal(3, gap.Photos);
    }

    [Fact]
    public void AnOutlierIsNamedAndLeftOut()
    {
        RepeatReport report = Combine([Shifted("a.jpg", -0.05), Shifted("bad.jpg", 6), Shifted("b.jpg", 0.05), Shifted("c.jpg", 0)]);
        Assert.Equal(MeasurementStatus.NeedsReview, report.Status);
        Assert.Equal(["bad.jpg"], report.Photos.Where(p => !p.Used).Select(p => p.File));
        Assert.Contains(report.Notes, n => n.StartsWith("bad.jpg was left out", StringComparison.Ordinal));
        Assert.Equal(SampleMeasurement.Ok.Intervals[0].GapMm, report.Figures.First(f => f.Name == "gap").ValueMm, 0.05);
    }

    /// <summary>A guide slid by 20 mm on the first photo: it is that photo that is left out, not the three that agree.</summary>
    [Fact]
    public void APhotoWithAMovedGuideIsLeftOutWhereverItStands()
    {
        Measurement ok = SampleMeasurement.Ok;
        Measurement moved = ok with { Guides = [.. ok.Guides.Select((g, i) => i == 1 ? g with { Station = g.Station with { Mm = g.StationMm + 20 } } : g)] };
        RepeatReport report = Combine([("moved.jpg", moved), Shifted("a.jpg", 0.2), Shifted("b.jpg", 0.05), Shifted("c.jpg", -0.1)]);
        Assert.Equal(["a.jpg", "b.jpg", "c.jpg"], report.Photos.Where(p => p.Used).Select(p => p.File));
        Assert.Equal($"its guide {ok.Guides[1].Index} stands 20 mm from where the others have it", report.Photos[0].Why);
        Assert.Equal("b.jpg", report.Photos[report.Typical!.Value].File);
    }

    [Fact]
    public void TwoThatDifferAreNotSortedOutButToldOf()
    {
        RepeatReport report = Combine([Shifted("a.jpg", -3), Shifted("b.jpg", 3)]);
        Assert.All(report.Photos, p => Assert.True(p.Used));
        Assert.Equal(MeasurementStatus.NeedsReview, report.Status);
        Assert.True(report.SpreadOverStated > 1.5);
    }

    [Fact]
    public void OtherGuideCountsAndRefusalsAreLeftOut()
    {
        Measurement ok = SampleMeasurement.Ok;
        Measurement fewer = ok with { Guides = [.. ok.Guides.Skip(1)], Intervals = [.. ok.Intervals.Skip(1)] };
        RepeatReport report = Combine([("a.jpg", ok), ("few.jpg", fewer), ("no.jpg", SampleMeasurement.Refused), ("b.jpg", ok)]);
        Assert.Equal(["a.jpg", "b.jpg"], report.Photos.Where(p => p.Used).Select(p => p.File));
        Assert.Equal(MeasurementStatus.Refused, Combine([("no.jpg", SampleMeasurement.Refused)]).Status);
    }

    [Fact]
    public void TheDocumentHoldsWhatWasPutTogether()
    {
        using JsonDocument json = JsonDocument.Parse(RepeatJson.Write(Combine([Shifted("a.jpg", 0), Shifted("b.jpg", 0.1)])));
        Assert.Equal("deflectscan.repeat/1", json.RootElement.GetProperty("schema").GetString());
        Assert.Equal(2, json.RootElement.GetProperty("photos").GetArrayLength());
        Assert.True(json.RootElement.GetProperty("figures").GetArrayLength() > 3);
    }

    /// <summary>The same file under another name tells nothing new: it counts once, and needs no look for that.</summary>
    [Fact]
    public void ACopyOfAPhotoCountsOnce()
    {
        (string _, Measurement a) = Shifted("a.jpg", -0.1);
        (string _, Measurement b) = Shifted("b.jpg", 0.1);
        a = a with { Photo = a.Photo! with { Sha256 = new string('1', 64) } };
        b = b with { Photo = b.Photo! with { Sha256 = new string('2', 64) } };
        RepeatReport once = RepeatRule.Combine([("a.jpg", a), ("b.jpg", b)]);
        RepeatReport twice = RepeatRule.Combine([("a.jpg", a), ("b.jpg", b), ("copy of b.jpg", b)]);
        Assert.Equal(once.Figures, twice.Figures);
        Assert.Equal(MeasurementStatus.Ok, twice.Status);
        Assert.Equal("it is a copy of b.jpg, which counts once", twice.Photos[2].Why);
        Assert.Equal(MeasurementStatus.Refused, RepeatRule.Combine([("a.jpg", a), ("copy of a.jpg", a)]).Status);
    }

    /// <summary>Each of another file, as photos of one set-up are.</summary>
    private static RepeatReport Combine((string File, Measurement Measurement)[] photos) =>
        RepeatRule.Combine([.. photos.Select(p => (p.File, p.Measurement with { Photo = p.Measurement.Photo is { } photo ? photo with { Sha256 = p.File } : null }))]);

    /// <summary>All gaps, heights and bows of the sample moved by some mm, and their uncertainty 0.6 mm.</summary>
    private static (string File, Measurement Measurement) Shifted(string file, double mm)
    {
        Measurement ok = SampleMeasurement.Ok;
        return (file, ok with
        {
            Guides = [.. ok.Guides.Select(g => g with { Station = new(g.IsTip ? 0 : g.StationMm + mm, 0.6), Height = new(g.HeightMm + mm, 0.6) })],
            Intervals = [.. ok.Intervals.Select(i => i with { Gap = new(i.GapMm + mm, 0.6), Bow = new(i.BowMm + mm, 0.6) })],
        });
    }
}

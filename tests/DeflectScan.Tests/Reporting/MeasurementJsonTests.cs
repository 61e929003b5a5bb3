using System.Text.Json;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes.Samples;

namespace DeflectScan.Tests.Reporting;

public class MeasurementJsonTests
{
    public static TheoryData<string> Names => ["ok", "refused"];

    [Theory]
    [MemberData(nameof(Names))]
    public void WhatIsWrittenReadsBackEqual(string name)
    {
        Measurement m = Named(name);
        Measurement again = MeasurementJson.Read(MeasurementJson.Write(m)).Value!;
        AssertEqual(m, again);
        Assert.Equal(MeasurementJson.Write(m), MeasurementJson.Write(again));
    }

    [Fact]
    public void TheMembersAreTheContracts()
    {
        using JsonDocument document = JsonDocument.Parse(MeasurementJson.Write(SampleMeasurement.Ok));
        JsonElement root = document.RootElement;
        Assert.Equal(
            ["schema", "tool", "photo", "status", "warnings", "calibration", "side", "blank", "guides", "line", "intervals", "largest", "running", "suggestion", "pull", "budget", "covariance"],
            Members(root));
        Has(root.GetProperty("photo"), "file", "sha256", "width_px", "height_px", "taken_at");
        Has(root.GetProperty("warnings")[0], "code", "message");
        Has(root.GetProperty("calibration"), "cards", "lens", "tilt_deg", "distance_mm", "mm_per_px", "scale_uncertainty_percent");
        Has(root.GetProperty("calibration").GetProperty("cards")[0], "letter", "corners", "rms_px");
        Has(root.GetProperty("blank"), "traced_length_mm", "tip_turn_deg", "reel_front_mm", "reel_front_uncertainty_mm", "reel_front_source", "axis");
        Has(root.GetProperty("blank").GetProperty("axis")[0], "s_mm", "x_px", "y_px", "x_mm", "y_mm", "diameter_mm");
        Has(
            root.GetProperty("guides")[0], "index", "kind", "station_mm", "station_uncertainty_mm", "from_reel_mm", "from_reel_uncertainty_mm", "ring_px", "height_mm", "ring_outer_mm",
            "line_angle_deg", "source", "station_seen_mm", "height_seen_mm");
        Has(root.GetProperty("line"), "source", "vertices_px");
        Has(
            root.GetProperty("intervals")[0], "from", "to", "chord_mm", "gap_mm", "gap_uncertainty_mm", "gap_at_mm", "bow_mm", "bow_uncertainty_mm",
            "clearance_mm", "touches_blank", "gap_seen_mm", "bow_seen_mm", "clearance_seen_mm");
        Has(root.GetProperty("largest").GetProperty("gap"), "from", "to");
        Has(root.GetProperty("running"), "reduction_guides", "follows_worst", "by");
        Has(root.GetProperty("suggestion"), "why", "add_at_mm", "moves", "bow_before_mm", "bow_after_mm", "gap_before_mm", "gap_after_mm");
        Has(root.GetProperty("suggestion").GetProperty("moves")[0], "guide", "from_mm", "to_mm");
        Has(root.GetProperty("pull"), "source", "direction_deg", "direction_uncertainty_deg", "plumb_deg", "load_n", "cord_px");
        Assert.Equal("2026-05-02T10:11:12", root.GetProperty("photo").GetProperty("taken_at").GetString());
        Assert.Equal("tip", root.GetProperty("guides")[2].GetProperty("kind").GetString());
        Assert.Equal(1405.2, root.GetProperty("line").GetProperty("vertices_px")[1][0].GetDouble());
    }

    /// <summary>A covariance whose rows are of the wrong length is none.</summary>
    [Fact]
    public void ADamagedCovarianceIsRefused()
    {
        string document = MeasurementJson.Write(SampleMeasurement.Ok);
        Assert.Contains("[0.3, 0.3025]", document, StringComparison.Ordinal);
        Assert.True(MeasurementJson.Read(document.Replace("[0.3, 0.3025]", "[0.3]", StringComparison.Ordinal)).IsRefused);
        Assert.True(MeasurementJson.Read(document.Replace("[0.3, 0.3025]", "[0.3, 1e999]", StringComparison.Ordinal)).IsRefused);
        Assert.Null(MeasurementJson.Read(MeasurementJson.Write(SampleMeasurement.Ok with { Covariance = null })).Value!.Covariance);
    }

    [Theory]
    [InlineData(ReelFrontSource.Read, "read")]
    [InlineData(ReelFrontSource.Marked, "marked")]
    [InlineData(ReelFrontSource.Taped, "taped")]
    public void TheReelsFrontReadsBack(ReelFrontSource source, string spelt)
    {
        Measurement m = WithReel(new ReelFrontReport(source, 1522.5, 2.6));
        string document = MeasurementJson.Write(m);
        Assert.Contains($"\"reel_front_source\": \"{spelt}\"", document, StringComparison.Ordinal);
        Assert.Equal(m.Blank!.Reel, MeasurementJson.Read(document).Value!.Blank!.Reel);
    }

    [Fact]
    public void NoReelIsAStateOfItsOwnAndOlderDocumentsDoNotSay()
    {
        string none = MeasurementJson.Write(WithReel(new ReelFrontReport(ReelFrontSource.NotSeen, null, null)));
        using (JsonDocument document = JsonDocument.Parse(none))
        {
            Assert.Equal("not_seen", document.RootElement.GetProperty("blank").GetProperty("reel_front_source").GetString());
            Assert.Equal(JsonValueKind.Null, document.RootElement.GetProperty("blank").GetProperty("reel_front_mm").ValueKind);
        }

        Assert.Equal(ReelFrontSource.NotSeen, MeasurementJson.Read(none).Value!.Blank!.Reel!.Source);
        string older = MeasurementJson.Write(WithReel(null));
        Assert.DoesNotContain("reel_front", older, StringComparison.Ordinal);
        Assert.Null(MeasurementJson.Read(older).Value!.Blank!.Reel);
    }

    [Fact]
    public void ARefusalKeepsEveryMember()
    {
        using JsonDocument document = JsonDocument.Parse(MeasurementJson.Write(SampleMeasurement.Refused));
        Assert.Equal(15, Members(document.RootElement).Length);
        Assert.Equal("refused", document.RootElement.GetProperty("status").GetString());
        Assert.Equal(JsonValueKind.Null, document.RootElement.GetProperty("blank").ValueKind);
        Assert.Equal("file-unreadable", document.RootElement.GetProperty("warnings")[0].GetProperty("code").GetString());
    }

    [Fact]
    public void FiguresAreRoundedWithoutNegativeZeroAndMustBeNumbers()
    {
        Measurement m = SampleMeasurement.Ok with { Blank = new BlankReport(1234.56789, -0.00001, []) };
        string document = MeasurementJson.Write(m);
        Assert.Contains("\"traced_length_mm\": 1234.5679,", document, StringComparison.Ordinal);
        Assert.Contains("\"tip_turn_deg\": 0.0,", document, StringComparison.Ordinal);
        m = m with { Blank = new BlankReport(double.NaN, 0, [new AxisSample(0, new Vec2(0, 0), new Vec2(0, 0), 1)]) };
        Assert.Throws<ArgumentException>(() => MeasurementJson.Write(m));
    }

    [Theory]
    [InlineData("")]
    [InlineData("[]")]
    [InlineData("{}")]
    [InlineData("""{"schema":"deflectscan.measurement/2"}""")]
    [InlineData("""{"schema":"deflectscan.measurement/1"}""")]
    public void AnotherDocumentIsRefused(string text) => Assert.True(MeasurementJson.Read(text).IsRefused);

    [Fact]
    public void ADocumentWithAMemberOfAWrongTypeIsRefusedAndNewMembersArePassedOver()
    {
        string document = MeasurementJson.Write(SampleMeasurement.Ok);
        Assert.True(MeasurementJson.Read(document.Replace("\"index\": 1", "\"index\": \"one\"", StringComparison.Ordinal)).IsRefused);
        Assert.True(MeasurementJson.Read(document.Replace("\"status\": \"ok\"", "\"status\": \"fine\"", StringComparison.Ordinal)).IsRefused);
        Measurement later = MeasurementJson.Read(document.Replace("\"status\": \"ok\"", "\"new\": [1, {}], \"status\": \"ok\"", StringComparison.Ordinal)).Value!;
        AssertEqual(SampleMeasurement.Ok, later);
    }

    /// <summary>Records compare their lists by reference: the lists are compared one by one, then taken over so that the rest can be.</summary>
    private static void AssertEqual(Measurement a, Measurement b)
    {
        Assert.Equal(a.Findings, b.Findings);
        Assert.Equal(a.Guides, b.Guides);
        Assert.Equal(a.Intervals, b.Intervals);
        foreach ((CardReport x, CardReport y) in (a.Calibration?.Cards ?? []).Zip(b.Calibration?.Cards ?? []))
        {
            Assert.Equal(x.OutlinePx, y.OutlinePx);
            Assert.Equal(x, y with { OutlinePx = x.OutlinePx });
        }

        Assert.Equal(a.Calibration?.Cards.Count, b.Calibration?.Cards.Count);
        Assert.Equal(a.Blank?.Axis, b.Blank?.Axis);
        Assert.Equal(a.Line?.VerticesPx, b.Line?.VerticesPx);
        Assert.Equal(a.Suggestion?.Moves, b.Suggestion?.Moves);
        Assert.Equal(a.Suggestion?.Layout, b.Suggestion?.Layout);
        Assert.Equal(a.Pull?.CordPx, b.Pull?.CordPx);
        Assert.Equal(a.Budget?.Lines, b.Budget?.Lines);
        Assert.Equal(a.Covariance?.Mm2, b.Covariance?.Mm2);
        Assert.Equal(a.Covariance?.CardsOff.Select(o => (o.Letter, string.Join(' ', o.PerMm))), b.Covariance?.CardsOff.Select(o => (o.Letter, string.Join(' ', o.PerMm))));
        Assert.Equal(a, b with
        {
            Findings = a.Findings,
            Guides = a.Guides,
            Intervals = a.Intervals,
            Calibration = a.Calibration is null ? b.Calibration : b.Calibration! with { Cards = a.Calibration.Cards },
            Blank = a.Blank is null ? b.Blank : b.Blank! with { Axis = a.Blank.Axis },
            Line = a.Line is null ? b.Line : b.Line! with { VerticesPx = a.Line.VerticesPx },
            Suggestion = a.Suggestion is null ? b.Suggestion : b.Suggestion! with { Moves = a.Suggestion.Moves, Layout = a.Suggestion.Layout },
            Budget = a.Budget,
            Covariance = a.Covariance,
            Pull = a.Pull is null ? b.Pull : b.Pull! with { CordPx = a.Pull.CordPx },
        });
    }

    private static Measurement WithReel(ReelFrontReport? reel) => SampleMeasurement.Ok with { Blank = SampleMeasurement.Ok.Blank! with { Reel = reel } };

    private static Measurement Named(string name) => name == "ok" ? SampleMeasurement.Ok : SampleMeasurement.Refused;

    private static string[] Members(JsonElement e) => [.. e.EnumerateObject().Select(p => p.Name)];

    private static void Has(JsonElement e, params string[] members) => Assert.Subset(Members(e).ToHashSet(), members.ToHashSet());
}

using System.Text.Json;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes;
using DeflectScan.Tracing;

namespace DeflectScan.Cli.Tests;

public class BendTests
{
    [Fact]
    public void TheFamilyOfBendsIsShownAndDrawn()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(0, run.Run("bend", Document(folder, "loads-mid", 18.5), "--at", "0.5x,1x", "--tip-turn", "95", "--line-pull", "10N", "--picture", folder["f.svg"]));
        Assert.Contains("18.5 N", run.Out, StringComparison.Ordinal);
        Assert.Contains("Layout that is best over all these bends", run.Out, StringComparison.Ordinal);
        Assert.Contains("Pulled through the line", run.Out, StringComparison.Ordinal);
        Assert.Contains("beyond the photographed load", run.Out, StringComparison.Ordinal);
        Assert.Contains("more than the 90", run.Out, StringComparison.Ordinal);
        Assert.Contains("eye protection", run.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("\u001b", run.Out, StringComparison.Ordinal);
        Assert.StartsWith("<?xml", File.ReadAllText(folder["f.svg"]), StringComparison.Ordinal);
    }

    /// <summary>Against the exact truth of the other load (another program's large-deflection solution).</summary>
    [Fact]
    public void WithJsonTheFiguresAreOneObjectAndRight()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Truth mid = Repository.Truth("loads-mid");
        Truth deep = Repository.Truth("loads-deep");
        double factor = deep.Blank.ForceRelative / mid.Blank.ForceRelative;
        Assert.Equal(0, run.Run("bend", Document(folder, "loads-mid", null), "--at", FormattableString.Invariant($"{factor:0.0000}x"), "--line-pull", "1x", "--json"));
        using JsonDocument json = JsonDocument.Parse(run.Out);
        Assert.Equal("deflectscan.bend/1", json.RootElement.GetProperty("schema").GetString());
        JsonElement bend = Assert.Single(json.RootElement.GetProperty("bends").EnumerateArray());
        Assert.Equal(deep.Blank.TipTurnDeg, bend.GetProperty("tip_turn_deg").GetDouble(), 1.0);
        TruthInterval[] pairs = [.. deep.Intervals.Skip(1)];
        foreach ((JsonElement pair, int i) in bend.GetProperty("pairs").EnumerateArray().Select((p, i) => (p, i)))
        {
            Assert.Equal(pairs[i].GapMm, pair.GetProperty("gap_mm").GetDouble(), 0.8);
            Assert.Equal(pairs[i].BowMm, pair.GetProperty("bow_mm").GetDouble(), 0.8);
        }

        // Ring loads of a line without friction are 2 T sin(angle / 2).
        JsonElement ring = json.RootElement.GetProperty("line").GetProperty("rings").EnumerateArray().Last();
        Assert.Equal(2 * Math.Sin(ring.GetProperty("line_angle_deg").GetDouble() * Math.PI / 360), ring.GetProperty("load_factor").GetDouble(), 1e-3);
    }

    [Fact]
    public void ASecondPhotoNarrowsWhatIsStated()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        string mid = Document(folder, "loads-mid", null);
        double alone = TipUncertainty(run, mid, "--unseen", "0");
        double together = TipUncertainty(run, mid, "--with", Document(folder, "loads-deep", null), "--unseen", "0");
        Assert.True(together < alone / 2, $"{together} against {alone} mm");
    }

    /// <summary>These rods are straight at rest; such a photo is always under review for its small bend, which does not touch the blank.</summary>
    [Fact]
    public void APhotoAtRestNarrowsWhatIsStated()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        string mid = Document(folder, "loads-mid", null);
        Measurement m = Measured("loads-mid", null);
        Vec2 clamp = m.Blank!.Axis[^1].Mm;
        Vec2 towardsTip = (m.Blank.Axis[^2].Mm - clamp).Normalized();
        double length = m.Blank.Axis[^1].SMm;
        Measurement rest = m with
        {
            Status = MeasurementStatus.NeedsReview,
            Findings = [Finding.Review(FindingCode.BendTooSmall, "The tip turns by only 0 degrees.")],
            Blank = m.Blank with { TipTurnDeg = 0, Axis = [.. m.Blank.Axis.Select(a => a with { Mm = clamp + (towardsTip * (length - a.SMm)) })] },
            Pull = new PullReport(null, null, null, -90, null, []),
        };
        string atRest = folder.File("rest.json", MeasurementJson.Write(rest));
        Assert.True(TipUncertainty(run, mid, "--rest", atRest) < TipUncertainty(run, mid));
        Assert.Equal(0, run.Run("bend", mid, "--rest", atRest, "--at", "1x"));
        Assert.DoesNotContain("No photo at rest", run.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("needs review", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void TheBlankIsDescribedAndComparedOnOnePlot()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(0, run.Run("blank", Document(folder, "loads-mid", 18.5), Document(folder, "loads-deep", 26.6), "--plot", folder["b.png"], "--stations", "200mm,800mm"));
        Assert.Contains("in the tip third", run.Out, StringComparison.Ordinal);
        Assert.Contains("Second blank over first", run.Out, StringComparison.Ordinal);
        Assert.Contains("EI in N·m²", run.Out, StringComparison.Ordinal);
        Assert.Equal(0x89, File.ReadAllBytes(folder["b.png"])[0]);
    }

    /// <summary>The same rod at two loads in their true ratio: its stiffness must come out the same, and as the truth has it.</summary>
    [Fact]
    public void OneRodAtTwoLoadsHasOneStiffness()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Truth mid = Repository.Truth("loads-mid");
        double ratio = Repository.Truth("loads-deep").Blank.ForceRelative / mid.Blank.ForceRelative;
        Assert.Equal(0, run.Run("blank", Document(folder, "loads-mid", 10), Document(folder, "loads-deep", 10 * ratio), "--json"));
        using JsonDocument json = JsonDocument.Parse(run.Out);
        foreach (JsonElement s in json.RootElement.GetProperty("second_over_first").GetProperty("stations").EnumerateArray().Where(s => s.GetProperty("is_told").GetBoolean()))
            Assert.InRange(s.GetProperty("ratio").GetDouble(), 1 - s.GetProperty("uncertainty_share").GetDouble(), 1 + s.GetProperty("uncertainty_share").GetDouble());
    }

    /// <summary>What bends between the end of the trace and the clamp turns that end at other loads; told, it is part of the rod, not told, of the uncertainty.</summary>
    [Fact]
    public void WhatBendsUnseenIsAllowedForUntilItIsTold()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        string mid = Document(folder, "loads-mid", null);
        double told = TipUncertainty(run, mid, "--unseen", "0");
        double open = TipUncertainty(run, mid);
        Assert.True(open > told + 5, $"{open} against {told} mm");
        Assert.Equal(0, run.Run("bend", mid, "--at", "0.5x"));
        Assert.Contains("--unseen", run.Out, StringComparison.Ordinal);
        string deep = Document(folder, "loads-deep", null);

        // These documents do not say how their cards lie, so nothing ties the photos together.
        Assert.Equal(3, run.Run("bend", mid, "--with", deep, "--untouched"));
        Assert.Equal(3, run.Run("bend", mid, "--with", deep, "--untouched", "--unseen", "0"));
        Assert.Contains("the same scale card", run.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(2, "is no load", "--at", "2")]
    [InlineData(2, "is no tip turn", "--tip-turn", "200")]
    [InlineData(2, "is no blank's weight", "--weight", "heavy")]
    [InlineData(2, "is no line pull", "--line-pull", "much")]
    [InlineData(2, "must end in .png", "--picture", "f.gif")]
    [InlineData(2, "There is no such file", "--rest", "nowhere.json")]
    [InlineData(2, "speaks of several photos", "--untouched")]
    [InlineData(3, "needs the photographed load", "--line-pull", "10N")]
    public void WhatCannotBeDoneIsSaidInOneSentence(int code, string says, params string[] options)
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(code, run.Run(["bend", Document(folder, "loads-mid", null), .. options]));
        Assert.Contains(says, run.Error, StringComparison.Ordinal);
        Assert.Equal("", run.Out);
    }

    [Fact]
    public void WithoutTheCordsDirectionItIsRefused()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Measurement m = Measured("loads-mid", null) with { Pull = null };
        Assert.Equal(3, run.Run("bend", folder.File("no-cord.json", MeasurementJson.Write(m))));
        Assert.Contains("--pull-direction", run.Error, StringComparison.Ordinal);
    }

    private static double TipUncertainty(FakeRun run, params string[] arguments)
    {
        Assert.Equal(0, run.Run(["bend", .. arguments, "--at", "1.4x", "--json"]));
        using JsonDocument json = JsonDocument.Parse(run.Out);
        return json.RootElement.GetProperty("bends")[0].GetProperty("tip_across_uncertainty_mm").GetDouble();
    }

    internal static string Document(TempFolder folder, string name, double? loadN) =>
        folder.File($"{name}.json", MeasurementJson.Write(Measured(name, loadN)));

    // The exact truth in the form of a document, its axis cut where the handle begins.
    private static Measurement Measured(string name, double? loadN)
    {
        Truth truth = Repository.Truth(name);
        Measurement m = TruthMeasurement.From(truth, new PhotoInfo("photo.jpg", new string('0', 64), 4032, 3024, 1, null, null, null, null, null, null, null));
        double seen = truth.Blank.LengthMm - truth.Blank.VisibleFromSMm;
        AxisSample[] axis = [.. m.Blank!.Axis.Where(a => a.SMm <= seen + 0.01).Select(a => a with { AcrossUncertaintyMm = 0.1 })];
        return m with
        {
            Blank = m.Blank with { TracedLengthMm = axis[^1].SMm, Axis = axis },
            Pull = new PullReport(Source.Traced, truth.Blank.ForceDirectionDeg, 0.2, -90, loadN, [new Vec2(1, 2), new Vec2(3, 4)]),
        };
    }
}

using System.Text.Json;
using DeflectScan.Scenes;

namespace DeflectScan.Cli.Tests;

public class WhatIfTests
{
    [Fact]
    public void TheTablesShowBothLayouts()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(0, run.Run("whatif", Document(folder), "--move", "5=+12mm", "--add", "120mm", "--remove", "6"));
        Assert.Contains("Pairs now", run.Out, StringComparison.Ordinal);
        Assert.Contains("Pairs then", run.Out, StringComparison.Ordinal);
        Assert.Contains("+12.0", run.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("\u001b", run.Out, StringComparison.Ordinal);
        Assert.Equal("", run.Error);
    }

    [Fact]
    public void WithJsonStandardOutputIsOneObjectAndTheLayoutIsKept()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(0, run.Run("whatif", Document(folder), "--from", "reel", "--add", "1400mm", "--json", "--save", folder["kept.json"]));
        using JsonDocument json = JsonDocument.Parse(run.Out);
        Assert.Equal("deflectscan.whatif/1", json.RootElement.GetProperty("schema").GetString());
        JsonElement added = Assert.Single(json.RootElement.GetProperty("after").GetProperty("guides").EnumerateArray(), g => g.GetProperty("measured_as").ValueKind == JsonValueKind.Null);
        Assert.Equal(1400, added.GetProperty("from_reel_mm").GetDouble(), 1e-3);
        using JsonDocument kept = JsonDocument.Parse(File.ReadAllText(folder["kept.json"]));
        Assert.Equal("deflectscan.layout/1", kept.RootElement.GetProperty("schema").GetString());
        Assert.Contains(kept.RootElement.GetProperty("guides").EnumerateArray(), g => Math.Abs(g.GetProperty("from_reel_mm").GetDouble() - 1400) < 1e-3);
    }

    [Fact]
    public void TheSuggestionCanBeTriedOut()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        string document = Document(folder);
        Assert.Equal(0, run.Run("whatif", document, "--suggested", "--json"));
        using JsonDocument json = JsonDocument.Parse(run.Out);
        using JsonDocument measured = JsonDocument.Parse(File.ReadAllText(document));
        double at = measured.RootElement.GetProperty("suggestion").GetProperty("add_at_mm").GetDouble();
        Assert.Contains(json.RootElement.GetProperty("after").GetProperty("guides").EnumerateArray(), g => Math.Abs(g.GetProperty("station_mm").GetDouble() - at) < 1e-3);
    }

    [Theory]
    [InlineData(2, "Nothing is to be changed")]
    [InlineData(2, "There is no guide 40", "--move", "40=5mm")]
    [InlineData(2, "is no length", "--move", "5=abc")]
    [InlineData(2, "is off the measured blank", "--add", "9m")]
    [InlineData(2, "needs a guide table", "--add", "200mm@8")]
    [InlineData(2, "--photo", "--add", "120mm", "--overlay", "o.png")]
    public void WhatCannotBeDoneIsSaidInOneSentence(int code, string says, params string[] options)
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(code, run.Run(["whatif", Document(folder), .. options]));
        Assert.Contains(says, run.Error, StringComparison.Ordinal);
        Assert.Equal("", run.Out);
        Assert.Single(run.Error.TrimEnd('\n').Split('\n'));
    }

    [Fact]
    public void ADocumentThatCannotBeReadIsRefused()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(2, run.Run("whatif", folder["none.json"], "--add", "120mm"));
        Assert.Contains("no such file", run.Error, StringComparison.Ordinal);
        Assert.Equal(3, run.Run("whatif", folder.File("text.json", "hello"), "--add", "120mm"));
        Assert.Contains("not whole JSON", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void AMeasurementInReviewStaysInReview()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        string text = TruthDocument.Text("clean-spinning").Replace("\"status\": \"ok\"", "\"status\": \"needs_review\"", StringComparison.Ordinal);
        Assert.Equal(4, run.Run("whatif", folder.File("m.json", text), "--add", "120mm"));
        Assert.Contains("needs review", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void TheOverlayNeedsTheMeasuredPhoto()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(2, run.Run("whatif", Document(folder), "--add", "120mm", "--overlay", folder["o.png"], "--photo", Repository.Photo("clean-spinning")));
        Assert.Contains("not the one that was measured", run.Error, StringComparison.Ordinal);
        Assert.False(File.Exists(folder["o.png"]));
    }

    /// <summary>After <c>measure --out DIR</c> the photo lies elsewhere: beside the document it is found, from elsewhere the option that tells it is named.</summary>
    [Fact]
    public void WhereThePhotoLiesElsewhereTheOptionIsNamed()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        string document = Document(folder);
        Assert.Equal(2, run.Run("whatif", document, "--add", "120mm", "--overlay", folder["o.png"]));
        Assert.Contains("Say where the photo lies (--photo).", run.Error, StringComparison.Ordinal);
        Assert.Single(run.Error.TrimEnd('\n').Split('\n'));
        Assert.False(File.Exists(folder["o.png"]));
    }

    internal static string Document(TempFolder folder, string name = "clean-spinning") => folder.File("measurement.json", TruthDocument.Text(name));
}

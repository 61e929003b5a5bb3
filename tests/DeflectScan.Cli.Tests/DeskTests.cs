using System.Text;
using System.Text.Json;

namespace DeflectScan.Cli.Tests;

public class DeskTests
{
    [Fact]
    public void RingsShowsLoadsAndSaysWhatFrictionCosts()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(0, run.Run("rings", WhatIfTests.Document(folder, "casting-top"), "--pull", "1kg", "--line", "in"));
        Assert.Contains("carries most", run.Out, StringComparison.Ordinal);
        Assert.Contains("lies on the blank", run.Out, StringComparison.Ordinal);
        Assert.Equal(0, run.Run("rings", folder["measurement.json"], "--pull", "2.2lb", "--json"));
        using JsonDocument json = JsonDocument.Parse(run.Out);
        Assert.Equal(2.2 * 0.45359237 * 9.80665, json.RootElement.GetProperty("pull_n").GetDouble(), 1e-3);
        Assert.Equal(2, run.Run("rings", folder["measurement.json"], "--pull", "hard"));
        Assert.Equal(2, run.Run("rings", folder["measurement.json"], "--friction", "3"));
    }

    /// <summary>Class 2000, light line, 6 ft 6 in (common practice, no source): rings 25, 12, 8 at about 21 in, then 8 to 9, then 6 to 8 in.</summary>
    [Fact]
    public void PlanGivesTheUsualSmallSpinningRodAndKeepsIt()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(0, run.Run("plan", "--rod-length", "6ft 6in", "--reel-at", "300mm", "--json", "--save", folder["plan.json"]));
        using JsonDocument json = JsonDocument.Parse(run.Out);
        JsonElement[] guides = [.. json.RootElement.GetProperty("guides").EnumerateArray()];
        Assert.Equal([25, 12, 8], guides.Take(3).Select(g => g.GetProperty("ring_size").GetDouble()));
        Assert.Equal(21, guides[0].GetProperty("from_reel_mm").GetDouble() / 25.4, 0.2);
        Assert.All(guides, g => Assert.False(string.IsNullOrEmpty(g.GetProperty("station_basis").GetProperty("why").GetString())));
        Assert.Equal(0, run.Run("plan", "--rod-length", "6ft 6in", "--reel-at", "300mm"));
        Assert.Contains("common practice: no source", run.Out, StringComparison.Ordinal);
        Assert.Equal(0, run.Run("sheet", folder["plan.json"], "--out", folder["sheet.pdf"], "--paper", "letter"));
        Assert.Equal(0, run.Run("tape", folder["plan.json"], "--out", folder["tape.pdf"]));
        Assert.All(new[] { "sheet.pdf", "tape.pdf" }, f => Assert.Equal("%PDF", Encoding.ASCII.GetString(File.ReadAllBytes(folder[f])[..4])));
        Assert.Equal(2, run.Run("plan", "--rod-length", "2ft", "--reel-at", "300mm"));
        Assert.Equal(2, run.Run("plan", "--reel-at", "300mm"));
    }

    [Fact]
    public void TestCastsAreKeptAndGiveTheNextMove()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        string notes = folder["notes.json"];
        Assert.Equal(2, run.Run("testcast", notes));
        Assert.Equal(2, run.Run("testcast", notes, "--seen", "coils-bunch-seen"));
        Assert.False(File.Exists(notes));
        Assert.Equal(0, run.Run("testcast", notes, "--seen", "coils-bunch-heard", "--first-guide", "21in"));
        Assert.Contains("move guide 1 by 12.7 mm (0.50 in, 1/2 in) towards the tip", run.Out, StringComparison.Ordinal);
        Assert.Equal(0, run.Run("testcast", notes, "--seen", "line-slaps-blank", "--first-guide", "21 1/2in", "--json"));
        using JsonDocument json = JsonDocument.Parse(run.Out);
        Assert.Equal(2, json.RootElement.GetProperty("casts").GetInt32());
        Assert.Equal(-6.35, json.RootElement.GetProperty("toward_tip_mm").GetDouble(), 1e-6);
        File.WriteAllText(notes, "{");
        Assert.Equal(3, run.Run("testcast", notes, "--seen", "runs-well", "--first-guide", "21in"));
        Assert.Equal("{", File.ReadAllText(notes));
    }

    [Fact]
    public void CarrySaysHowTheRunningGuidesWerePlaced()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        string rod = WhatIfTests.Document(folder);
        Assert.Equal(0, run.Run("carry", rod, "--reel-to-tip", "2000mm", "--save", folder["c.json"]));
        Assert.Contains("in proportion", run.Out, StringComparison.Ordinal);
        Assert.Equal(0, run.Run("tape", folder["c.json"], "--out", folder["c.pdf"]));
        string other = folder.File("other.json", DeflectScan.Scenes.TruthDocument.Text("students-few"));
        Assert.Equal(0, run.Run("carry", rod, "--onto", other));
        Assert.Contains("by equal bow", run.Out, StringComparison.Ordinal);
        Assert.Equal(2, run.Run("carry", rod, "--reel-to-tip", "700mm"));
        Assert.Equal(2, run.Run("carry", rod));
        Assert.Equal(2, run.Run("carry", rod, "--onto", folder["none.json"]));
    }

    [Fact]
    public void AMeasurementPrintsItselfAndForeignFilesDoNot()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(0, run.Run("sheet", WhatIfTests.Document(folder), "--out", folder["s.pdf"], "--blank-length", "2100mm"));
        Assert.Equal(2, run.Run("sheet", folder["measurement.json"], "--out", folder["s.pdf"], "--blank-length", "500mm"));
        Assert.Equal(3, run.Run("tape", folder.File("x.json", "[1]"), "--out", folder["x.pdf"]));
        Assert.False(File.Exists(folder["x.pdf"]));
        string review = folder.File("r.json", DeflectScan.Scenes.TruthDocument.Text("one-card").Replace("\"status\": \"ok\"", "\"status\": \"needs_review\"", StringComparison.Ordinal));
        Assert.Equal(4, run.Run("tape", review, "--out", folder["r.pdf"]));
    }
}

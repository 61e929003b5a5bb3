using System.Text.Json;
using DeflectScan.Checking;
using DeflectScan.Findings;

namespace DeflectScan.Cli.Tests;

/// <summary>The check as a person and as a script see it.</summary>
public class CheckTests
{
    private static readonly CheckItem Good = new("tilt", CheckVerdict.Good, null, "The camera looks at the rod's plane 3 degrees off square.", "", 3, "deg");
    private static readonly CheckItem Doubtful = new("sharpness", CheckVerdict.Doubtful, FindingCode.Blurred, "Edges are 2.1 px soft.", "Hold the camera still.", 2.1, "px");
    private static readonly CheckItem Useless = new("cards", CheckVerdict.Useless, FindingCode.CardMissing, "The photo cannot be scaled.", "Stand a card\u001b[31m beside the rod.");

    [Fact]
    public void TheVerdictDecides()
    {
        Assert.Equal(0, new FakeRun { Check = new CheckReport(null, [Good]) }.Run("check", "photo.jpg"));
        Assert.Equal(4, new FakeRun { Check = new CheckReport(null, [Good, Doubtful]) }.Run("check", "photo.jpg"));
        Assert.Equal(3, new FakeRun { Check = new CheckReport(null, [Doubtful, Useless]) }.Run("check", "photo.jpg", "--json"));
        FakeRun rest = new() { Check = new CheckReport(null, [Good]) };
        Assert.Equal(0, rest.Run("check", "photo.jpg", "--at-rest"));
        Assert.True(rest.CheckedAtRest);
    }

    [Fact]
    public void TheListIsWorstFirstAndCannotSteerTheTerminal()
    {
        FakeRun run = new() { Check = new CheckReport(null, [Good, Doubtful, Useless]) };
        run.Run("check", "pho\u001b]0;to.jpg");
        Assert.Contains("1. Stand a card\uFFFD[31m beside the rod.", run.Out, StringComparison.Ordinal);
        Assert.Contains("2. Hold the camera still.", run.Out, StringComparison.Ordinal);
        Assert.DoesNotContain('\u001b', run.Out);
    }

    [Fact]
    public void TheDocumentIsAlone()
    {
        FakeRun run = new() { Check = new CheckReport(null, [Good, Doubtful]) };
        run.Run("check", "photo.jpg", "--json");
        using JsonDocument json = JsonDocument.Parse(run.Out);
        Assert.Equal("deflectscan.check/1", json.RootElement.GetProperty("schema").GetString());
        Assert.Equal("doubtful", json.RootElement.GetProperty("verdict").GetString());
        JsonElement item = json.RootElement.GetProperty("items")[1];
        Assert.Equal(("blurred", 2.1), (item.GetProperty("code").GetString(), item.GetProperty("value").GetDouble()));
        Assert.Equal("", run.Error);
    }
}

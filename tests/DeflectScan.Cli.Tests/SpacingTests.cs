using System.Text.Json;

namespace DeflectScan.Cli.Tests;

public class SpacingTests
{
    [Fact]
    public void TheCurveAndTheLayoutAreShownAndKept()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        string table = folder.File("guides.csv", "ring,height_mm,mass_g\n6,7.5,0.28\n");
        Assert.Equal(0, run.Run(
            "spacing", WhatIfTests.Document(folder), "--guides", "8", "--guide-table", table, "--ring", "6", "--plot", folder["p.svg"], "--save", folder["l.json"]));
        Assert.Contains("Running mass g", run.Out, StringComparison.Ordinal);
        Assert.Contains("one more does not pay", run.Out, StringComparison.Ordinal);
        Assert.StartsWith("<?xml", File.ReadAllText(folder["p.svg"]), StringComparison.Ordinal);
        Assert.Contains("deflectscan.layout/1", File.ReadAllText(folder["l.json"]), StringComparison.Ordinal);
    }

    [Fact]
    public void EveryConstraintReachesTheSearch()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(0, run.Run(
            "spacing", WhatIfTests.Document(folder), "--largest-gap", "20mm", "--hold", "2", "--least-spacing", "60mm", "--may-grow", "--round", "1/16in",
            "--keep-off", "300mm..16in", "--curve-to", "7", "--json"));
        using JsonDocument json = JsonDocument.Parse(run.Out);
        JsonElement root = json.RootElement;
        Assert.Equal("deflectscan.spacing/1", root.GetProperty("schema").GetString());
        Assert.Equal(2, root.GetProperty("held").GetInt32());
        Assert.Equal("gap", root.GetProperty("goal").GetString());
        Assert.Equal(8, root.GetProperty("curve").GetArrayLength());
        double[] running = [.. root.GetProperty("layout").GetProperty("guides").EnumerateArray().Skip(2).SkipLast(1).Select(g => g.GetProperty("station_mm").GetDouble())];
        Assert.NotEmpty(running);
        Assert.All(running, s => Assert.Equal(0, Math.IEEERemainder(s, 25.4 / 16), 1e-3));
        Assert.DoesNotContain(running, s => s is > 300 and < 406.4);
    }

    [Theory]
    [InlineData("is no zone", "--keep-off", "5")]
    [InlineData("must end in .png", "--plot", "p.jpg")]
    [InlineData("There is no layout to keep", "--save", "l.json")]
    [InlineData("rounded to 0.5 mm at the finest", "--round", "0.1mm")]
    [InlineData("is no length", "--largest-bow", "five")]
    public void WhatCannotBeDoneIsSaidInOneSentence(string says, params string[] options)
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(2, run.Run(["spacing", WhatIfTests.Document(folder), .. options]));
        Assert.Contains(says, run.Error, StringComparison.Ordinal);
        Assert.Equal("", run.Out);
    }
}

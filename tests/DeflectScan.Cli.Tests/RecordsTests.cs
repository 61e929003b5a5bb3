using System.Text.Json;
using DeflectScan.Records;
using DeflectScan.Scenes.Samples;
using static DeflectScan.Cli.Tests.RecordsRun;

namespace DeflectScan.Cli.Tests;

/// <summary>The commands of records, over real archives and made-up measurements.</summary>
public class RecordsTests
{
    [Fact]
    public void ABuildIsAddedListedAndShown()
    {
        using TempFolder folder = new();
        Assert.Equal(0, Run(folder, "init").Code);
        (int code, string output, string error) = Run(
            folder, "add", Photo(folder, "one.jpg"), "--name", "Pike 8 ft", "--owner", "=1+1", "--length", "2440", "--reel", "4000", "--side", "inside", "--label", "first test", "--json");
        Assert.True(code == 0, error);
        string id = JsonDocument.Parse(output).RootElement.GetProperty("build").GetString()!;

        (code, output, _) = Run(folder, "list", "--json");
        JsonElement listed = JsonDocument.Parse(output).RootElement.GetProperty("builds")[0];
        Assert.Equal((0, id, 2440.0, 1), (code, listed.GetProperty("id").GetString()!, listed.GetProperty("blank_length_mm").GetDouble(), listed.GetProperty("measurements").GetInt32()));

        foreach (string reference in new[] { id, id[^8..], "Pike 8 ft" })
        {
            (code, output, _) = Run(folder, "show", reference);
            Assert.Equal(0, code);
            Assert.Contains("Reel class: 4000", output, StringComparison.Ordinal);
            Assert.Contains("first test", output, StringComparison.Ordinal);
        }

        (_, output, _) = Run(folder, "show", id, "--json");
        JsonElement document = JsonDocument.Parse(output).RootElement.GetProperty("measurements")[0].GetProperty("document");
        Assert.Equal("deflectscan.measurement/1", document.GetProperty("schema").GetString());
        Assert.Equal(0, Run(folder, "verify").Code);
    }

    [Fact]
    public void FactsAreReadFromAFileAndKeptWhenMoreIsSaid()
    {
        using TempFolder folder = new();
        Run(folder, "init");
        string file = folder.File("build.json", """{"schema": "deflectscan.build/1", "name": "From a file", "line": "braid", "guides": [{"ring_size_mm": 16, "from_tip_mm": 400}, {"from_tip_mm": 0}]}""");
        Assert.Equal(0, Run(folder, "add", "--from", file).Code);
        Assert.Equal(0, Run(folder, "add", "--build", "From a file", "--use", "perch").Code);
        string shown = Run(folder, "show", "From a file").Out;
        Assert.Contains("Line: braid", shown, StringComparison.Ordinal);
        Assert.Contains("Use: perch", shown, StringComparison.Ordinal);
        Assert.Contains("described 2 times", shown, StringComparison.Ordinal);
        Assert.Contains("400.0", shown, StringComparison.Ordinal);
    }

    [Fact]
    public void ANameThatIsThereIsNotGivenAgainByMistake()
    {
        using TempFolder folder = new();
        Run(folder, "init");
        Assert.Equal(0, Run(folder, "add", "--name", "A").Code);
        Assert.Equal(0, Run(folder, "add", "--name", "B").Code);
        Assert.Equal(3, OneLine(Run(folder, "add", Photo(folder, "one.jpg"), "--name", "A")));
        Assert.Equal(3, OneLine(Run(folder, "add", "--build", "B", "--name", "A")));
        Assert.Equal(0, Run(folder, "add", "--build", "A", "--name", "A", "--use", "perch").Code);
        Assert.Equal(0, Run(folder, "add", "--build", "A", "--name", "C").Code);
        Assert.Contains("2 builds", Run(folder, "list").Out, StringComparison.Ordinal);
    }

    [Fact]
    public void ARefusedPhotoAddsNothing()
    {
        using TempFolder folder = new();
        Run(folder, "init");
        (int code, _, string error) = Run(folder, SampleMeasurement.Refused, "add", Photo(folder, "one.jpg"), "--name", "A");
        Assert.Equal(3, code);
        Assert.Contains("Nothing was added", error, StringComparison.Ordinal);
        Assert.Contains("0 builds", Run(folder, "list").Out, StringComparison.Ordinal);
    }

    [Fact]
    public void ProblemsOfTheArchiveAreOneSentenceWithTheirOwnExitCode()
    {
        using TempFolder folder = new();
        Assert.Equal(10, OneLine(Run(folder, "list")));
        Assert.Equal(10, OneLine(Run(folder, "verify")));
        Assert.Equal(10, OneLine(Run(folder, "add", "--name", "A")));
        Run(folder, "init");
        Assert.Equal(3, OneLine(Run(folder, "init")));
        Assert.Equal(3, OneLine(Run(folder, "show", "nobody")));
        Assert.Equal(2, OneLine(Run(folder, "add")));
        Assert.Equal(2, OneLine(Run(folder, "list", "--page", "0")));
        Assert.Equal(3, OneLine(Run(folder, "add", "--name", "A", "--reel", "3")));
        Assert.Equal(2, OneLine(Run(folder, "add", "--from", folder.File("bad.json", "{"))));
        using (Archive.OpenForWriting(folder["archive"]))
            Assert.Equal(11, OneLine(Run(folder, "add", "--name", "A")));
        File.WriteAllText(folder["archive/records.db"], "no database");
        Assert.Equal(12, OneLine(Run(folder, "list")));
        Assert.Equal(12, OneLine(Run(folder, "add", "--name", "A")));
        Assert.Equal(12, Run(folder, "verify").Code);
    }
}

using System.IO.Compression;
using System.Text.Json;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes.Samples;

namespace DeflectScan.Cli.Tests;

/// <summary><c>deflectscan proof</c> and its own commands, over the made-up sample: stations 402 and 215.25 mm, gaps 27.1 and 21.2 mm.</summary>
public class ProofTests
{
    private static readonly string[] Good = ["--station", "1=402mm±1", "--station", "2=215.5±1", "--gap", "1-2=27.2mm±0.3", "--gap", "2-tip=21±0.3"];

    [Fact]
    public void ReadingsThatAgreeGiveZero()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(0, run.Run(["proof", Document(folder), .. Good]));
        Assert.Contains("Photo and hand agree: 4 readings", run.Out, StringComparison.Ordinal);
        Assert.Contains("gap 2 to tip-top", run.Out, StringComparison.Ordinal);
        Assert.Equal("", run.Error);
    }

    [Fact]
    public void ASlipOfThePenIsNamedAndCallsForReview()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(4, run.Run("proof", Document(folder), "--station", "1=502mm±1", "--station", "2=215mm±1", "--station", "1-2=187mm±1", "--gap", "1-2=27.2mm±0.3"));
        Assert.Contains("slip of the pen: 402.0 mm would fit (a digit)", run.Out, StringComparison.Ordinal);
        Assert.Equal(4, run.Run("proof", Document(folder), "--station", "1=502mm±1", "--station", "2=215mm±1", "--station", "1-2=187mm±1", "--gap", "1-2=27.2mm±0.3", "--units", "in"));
        Assert.Contains("15.83 in would fit", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void JsonHoldsTheSame()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        string csv = folder.File("readings.csv", "what,guides,reading,plus_minus\nstation,1,402mm,1\nstation,2,215.5mm,1\ngap,1-2,27.2mm,0.3\ngap,2-tip,21mm,0.3\n");
        Assert.Equal(0, run.Run("proof", Document(folder), "--readings", csv, "--json"));
        using JsonDocument json = JsonDocument.Parse(run.Out);
        Assert.Equal(("deflectscan.proof/1", "agree", 4), (json.RootElement.GetProperty("schema").GetString(), json.RootElement.GetProperty("verdict").GetString(), json.RootElement.GetProperty("readings").GetArrayLength()));
        Assert.Equal("tip", json.RootElement.GetProperty("readings")[3].GetProperty("to").GetString());
    }

    [Theory]
    [InlineData("--station 1")]
    [InlineData("--station one=402mm")]
    [InlineData("--gap 1=27mm")]
    [InlineData("--station 1=402mm±500")]
    [InlineData("")]
    public void WhatIsNoReadingIsWrongUsageInOneSentence(string options)
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(2, run.Run(["proof", Document(folder), .. options.Split(' ', StringSplitOptions.RemoveEmptyEntries)]));
        Assert.Equal(1, run.Error.Count(c => c == '\n'));
    }

    [Fact]
    public void ReadingsOfNothingInThePhotoAreRefused()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(3, run.Run("proof", Document(folder), "--station", "5=402mm"));
        Assert.Contains("2 guides", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void AProofIsKeptSummedUpAndToldByMeasure()
    {
        using TempFolder folder = new();
        string photo = RecordsRun.Photo(folder, "1.jpg", 1);
        Measurement m = RecordsRun.Of(SampleMeasurement.Ok, photo);
        Assert.Equal(0, RecordsRun.Run(folder, "init").Code);
        Assert.Equal(0, RecordsRun.Run(folder, m, "add", photo, "--name", "Build 1").Code);
        FakeRun run = new();
        Assert.Equal(0, run.Run(["proof", folder.File("m.json", MeasurementJson.Write(m)), .. Good, "--build", "Build 1", "--archive", folder["archive"]]));
        Assert.Contains("Kept with \"Build 1\"", run.Error, StringComparison.Ordinal);
        (int code, string shown, _) = RecordsRun.Run(folder, "proof");
        Assert.Equal(0, code);
        Assert.Contains("Example Phone", shown, StringComparison.Ordinal);
        Assert.Contains("Proofs by hand", RecordsRun.Run(folder, "show", "Build 1").Out, StringComparison.Ordinal);
        Assert.Contains("\"proved\":true", RecordsRun.Run(folder, "proof", "--json").Out, StringComparison.Ordinal);
    }

    /// <summary>Nothing is put into a file for others unasked.</summary>
    [Fact]
    public void ABundleIsAskedForFirst()
    {
        using TempFolder folder = new();
        string photo = folder["photo.jpg"];
        File.WriteAllBytes(photo, Scenes.Attacks.SmallPictures.All["jpeg-444"]);
        string document = folder.File("m.json", MeasurementJson.Write(RecordsRun.Of(SampleMeasurement.Ok, photo)));
        string[] args = ["proof", "bundle", document, .. Good, "--photo", photo, "--out", folder["b.zip"]];
        FakeRun run = new();
        Assert.Equal(2, run.Run(args));
        Assert.Contains("--yes", run.Error, StringComparison.Ordinal);
        run.Answer = "n";
        Assert.Equal(130, run.Run(args));
        Assert.False(File.Exists(folder["b.zip"]));
        run.Answer = "y";
        Assert.Equal(0, run.Run(args));
        using ZipArchive zip = ZipFile.OpenRead(folder["b.zip"]);
        Assert.Equal(["README.txt", "measurement.json", "readings.csv", "proof.json", "photo.jpg"], zip.Entries.Select(e => e.FullName));
        Assert.Equal(0, run.Run([.. args, "--yes", "--force"]));
    }

    private static string Document(TempFolder folder) => folder.File("m.json", MeasurementJson.Write(SampleMeasurement.Ok));
}

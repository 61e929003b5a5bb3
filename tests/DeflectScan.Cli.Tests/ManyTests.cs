using System.Globalization;
using System.Text.Json;
using CsvHelper;
using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Samples;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Tests;

/// <summary>Many photos in one run, each for itself.</summary>
public class ManyTests
{
    private static readonly Measurement Refused = SampleMeasurement.Ok with
    {
        Status = MeasurementStatus.Refused, Guides = [], Intervals = [], Blank = null, Running = null, Suggestion = null, Findings = [Finding.Refuse(FindingCode.CardMissing, "No scale card, \"was\" found,\nprint one.")],
    };

    private static FakeRun Run() => new() { MeasurementOf = path => Path.GetFileName(path)[0] switch { 'b' => Refused, 'x' => throw new IOException("gone"), _ => SampleMeasurement.Ok } };

    private static TempFolder Folder(params string[] names)
    {
        TempFolder folder = new();
        foreach (string name in names)
            folder.File(name, name);
        return folder;
    }

    [Fact]
    public void EachStandsForItselfAndOneBadPhotoStopsNoOther()
    {
        using TempFolder folder = Folder("a.jpg", "b.jpg", "x.jpg", "c.png", "notes.txt", ".hidden.jpg");
        FakeRun run = Run();
        Assert.Equal(1, run.Run("measure", folder.Path));
        string[] lines = run.Out.Split('\n');
        Assert.StartsWith("a.jpg", lines[1], StringComparison.Ordinal);
        Assert.Contains("refused", lines.Single(l => l.StartsWith("b.jpg", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.Contains("gone", lines.Single(l => l.StartsWith("x.jpg", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.Contains("ok", lines.Single(l => l.StartsWith("c.png", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.Contains("4 photos: 2 ok, 1 refused, 1 failed.", run.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("notes", run.Out, StringComparison.Ordinal);
        Assert.Contains("Measured 4 of 4 photos", run.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, "a.jpg", "c.jpg")]
    [InlineData(3, "a.jpg", "b.jpg")]
    [InlineData(1, "x.jpg", "b.jpg")]
    public void TheExitCodeIsTheWorstOne(int code, params string[] photos)
    {
        using TempFolder folder = Folder(photos);
        Assert.Equal(code, Run().Run(["measure", .. photos.Select(p => folder[p])]));
    }

    [Fact]
    public void JsonIsALineAPhotoInOrder()
    {
        using TempFolder folder = Folder("a.jpg", "b.jpg", "c.jpg", "x.jpg");
        FakeRun run = Run();
        run.Run("measure", folder["c.jpg"], folder["b.jpg"], folder["x.jpg"], folder["a.jpg"], "--json", "--at-once", "3");
        JsonElement[] lines = [.. run.Out.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => JsonDocument.Parse(l).RootElement)];
        Assert.Equal(["c.jpg", "b.jpg", "x.jpg", "a.jpg"], lines.Select(l => l.GetProperty("file").GetString()));
        Assert.Equal("refused", lines[1].GetProperty("status").GetString());
        Assert.Contains("gone", lines[2].GetProperty("problem").GetString(), StringComparison.Ordinal);
        // A line is a document: it reads back equal to the one of the photo by itself.
        Assert.Equal(Reporting.Json.MeasurementJson.Write(SampleMeasurement.Ok), Reporting.Json.MeasurementJson.Write(Reporting.Json.MeasurementJson.Read(lines[0].GetRawText()).Value!));
    }

    /// <summary>Against a reference reader of RFC 4180 (CsvHelper), in its strict mode.</summary>
    [Fact]
    public void TheTableReadsBackFieldByField()
    {
        using TempFolder folder = Folder("a,\"b\".jpg", "b.jpg", "x.jpg");
        FakeRun run = Run();
        run.Run("measure", folder.Path, "--csv", folder["t.csv"]);
        using StreamReader text = new(folder["t.csv"]);
        using CsvReader reader = new(text, CultureInfo.InvariantCulture);
        reader.Read();
        reader.ReadHeader();
        List<(string File, string Status, string Worst, string ToDo)> rows = [];
        while (reader.Read())
            rows.Add((reader.GetField("file")!, reader.GetField("status")!, reader.GetField("worst_mm")!, reader.GetField("to_do")!));
        Assert.Equal(["a,\"b\".jpg", "b.jpg", "x.jpg"], rows.Select(r => r.File));
        Assert.Equal(["ok", "refused", "failed"], rows.Select(r => r.Status));
        Assert.Equal(SampleMeasurement.Ok.FollowsWorst!.BowMm, double.Parse(rows[0].Worst, CultureInfo.InvariantCulture), 4);
        Assert.Equal("No scale card, \"was\" found,\nprint one.", rows[1].ToDo);
        Assert.Contains("gone", rows[2].ToDo, StringComparison.Ordinal);
    }

    [Fact]
    public void EveryPhotoHasAFolderOfItsOwn()
    {
        using TempFolder folder = Folder("a.jpg", "a.png");
        Directory.CreateDirectory(folder["other"]);
        File.WriteAllText(Path.Combine(folder["other"], "c.jpg"), "c");
        using TempFolder results = new();
        Assert.Equal(0, Run().Run("measure", folder.Path, folder["other"], "--out", results.Path));
        Assert.Equal(["a", "a-2", "c"], Directory.EnumerateDirectories(results.Path).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Assert.True(File.Exists(Path.Combine(results["a-2"], ResultsFolder.Document)));
    }

    /// <summary>By the one rule for written files: another photo's results are seen before any work is done.</summary>
    [Fact]
    public void AFolderThatIsAnothersIsRefusedBeforeTheWork()
    {
        using TempFolder folder = Folder("a.jpg", "c.jpg");
        using TempFolder results = new();
        results.File("c", "a file where a folder should be");
        FakeRun run = new() { While = _ => Assert.Fail("it was measured") };
        Assert.Equal(2, run.Run("measure", folder.Path, "--out", results.Path));
    }

    [Theory]
    [InlineData("There is no photo in that folder")]
    [InlineData("There is no such file", "nowhere.jpg")]
    [InlineData("from 1 to 64", "--at-once", "0")]
    [InlineData("--csv is a table", "--repeat", "--csv", "t.csv", "b.jpg")]
    public void WhatMakesNoSenseIsSaidBeforeTheWork(string says, params string[] more)
    {
        using TempFolder folder = new();
        FakeRun run = new() { While = _ => Assert.Fail("it was measured") };
        Assert.Equal(2, run.Run(["measure", folder.Path, .. more]));
        Assert.Contains(says, run.Error, StringComparison.Ordinal);
    }

    /// <summary>Several at once give what each gives by itself, byte for byte: a measured one, one outside the bend and one that is refused.</summary>
    [Fact]
    public void FiguresAreThoseOfEachPhotoByItself()
    {
        string[] photos = [.. new[] { "clean-spinning", "casting-top", "bad-no-card" }.Select(n => Path.Combine(Repository.TestImages, n, "photo.jpg"))];
        using TempFolder many = new();
        using TempFolder alone = new();
        Assert.Equal(3, Live(["measure", .. photos, "--at-once", "3", "--out", many.Path]));
        foreach (string photo in photos)
        {
            string name = Path.GetFileName(Path.GetDirectoryName(photo))!;
            Live(["measure", photo, "--out", alone[name]]);
            foreach (string file in Directory.EnumerateFiles(alone[name]))
                Assert.True(File.ReadAllBytes(file).AsSpan().SequenceEqual(File.ReadAllBytes(Path.Combine(many[name], Path.GetFileName(file)))), $"{name}/{Path.GetFileName(file)}");
        }
    }

    private static int Live(string[] args)
    {
        using StringWriter nowhere = new();
        return CliApp.Run(args, LiveEngine.Make(), new Terminal(nowhere, nowhere, false, false, false, Terminal.PipedWidth), default(CancellationToken));
    }
}

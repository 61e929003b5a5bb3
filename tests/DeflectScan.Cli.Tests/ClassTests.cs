using System.Globalization;
using System.Text;
using System.Text.Json;
using CsvHelper;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes;
using UglyToad.PdfPig;

namespace DeflectScan.Cli.Tests;

/// <summary>A class in files: twelve photos of which two are refused and three are to be looked at.</summary>
public class ClassTests
{
    private static readonly string[] Names = ["Alma", "Bruno", "Celia", "Darek", "Edda", "Fabio", "Greta", "Henk", "Ilse", "Jonas", "Kaja", "Luc"];
    private static readonly string[] RefusedOnes = ["Bruno", "Luc"], Doubtful = ["Alma", "Greta", "Kaja"];

    /// <summary>testimages/clean-spinning as measured; the others are this rod under other hashes, at other pixels.</summary>
    private static readonly Lazy<Measurement> Rod = new(() => MeasurePipeline.Measure(Path.Combine(Repository.TestImages, "clean-spinning", "photo.jpg"), MeasureOptions.Default));

    private static readonly Measurement NotMeasured = new("0.1.0", null, MeasurementStatus.Refused, [Finding.Refuse(FindingCode.CardMissing, "No scale card was found: print one.")], null, null, null, [], null, [], null, null);

    private static byte[] Picture { get; } = Png();

    private static byte[] Png()
    {
        using SkiaSharp.SKBitmap picture = new(80, 60);
        using SkiaSharp.SKData data = picture.Encode(SkiaSharp.SKEncodedImageFormat.Png, 90);
        return data.ToArray();
    }

    private static Measurement Of(string path)
    {
        string name = Path.GetFileNameWithoutExtension(path);
        int n = Array.IndexOf(Names, name) + 1;
        if (RefusedOnes.Contains(name))
            return NotMeasured with { Photo = Rod.Value.Photo! with { FileName = Path.GetFileName(path), Sha256 = Hash(n) } };
        Measurement own = Rod.Value with
        {
            Photo = Rod.Value.Photo! with { FileName = Path.GetFileName(path), Sha256 = Hash(n) },
            Guides = [.. Rod.Value.Guides.Select(g => g with { RingPx = g.RingPx + new Vec2(n, 0) })],
        };
        return Doubtful.Contains(name) ? own with { Status = MeasurementStatus.NeedsReview, Findings = [Finding.Review(FindingCode.Blurred, "The photo is blurred: hold the phone still.")] } : own;
    }

    private static string Hash(int n) => Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(BitConverter.GetBytes(n)));

    private static (int Code, FakeRun Run) Class(TempFolder folder, TempFolder results, params string[] more)
    {
        foreach (string name in Names)
            folder.File($"{name}.jpg", name);
        FakeRun run = new() { MeasurementOf = Of, Drawn = Picture };
        return (run.Run(["class", folder.Path, "--out", results.Path, .. more]), run);
    }

    private static List<Dictionary<string, string>> Table(string path)
    {
        using StreamReader text = new(path);
        using CsvReader reader = new(text, CultureInfo.InvariantCulture);
        reader.Read();
        reader.ReadHeader();
        List<Dictionary<string, string>> rows = [];
        while (reader.Read())
            rows.Add(reader.HeaderRecord!.ToDictionary(h => h, h => reader.GetField(h)!, StringComparer.Ordinal));
        return rows;
    }

    [Fact]
    public void RefusedAndDoubtfulOnesAreSaidPlainlyEverywhere()
    {
        using TempFolder folder = new();
        using TempFolder results = new();
        (int code, FakeRun run) = Class(folder, results, "--target-bow", "5mm");
        Assert.True(code == 3, run.Error);
        Assert.Contains("12 rods, 7 measured. To be looked at first, and left out of what is said here: Alma, Greta and Kaja. Without figures: Bruno and Luc.", run.Out, StringComparison.Ordinal);

        string html = File.ReadAllText(results["board.html"]);
        Assert.Equal(3, Count(html, "<span class=\"standing\">Look first</span>"));
        Assert.Equal(2, Count(html, "<span class=\"standing\">Not measured</span>"));
        Assert.Equal(2, Count(html, "No scale card was found: print one."));
        Assert.DoesNotContain("http", html.Replace("http-equiv", "", StringComparison.Ordinal), StringComparison.Ordinal); // nothing is fetched
        Assert.DoesNotContain("<script", html, StringComparison.Ordinal);

        List<Dictionary<string, string>> table = Table(results["class.csv"]);
        Assert.Equal(12, table.Count);
        Assert.Equal(RefusedOnes, table.Where(r => r["standing"] == "no_figures").Select(r => r["student"]).Order(StringComparer.Ordinal));
        Assert.Equal(Doubtful, table.Where(r => r["standing"] == "look_first").Select(r => r["student"]).Order(StringComparer.Ordinal));
        Assert.All(table.Where(r => RefusedOnes.Contains(r["student"])), r => Assert.Equal(("", "No scale card was found: print one."), (r["running_bow_mm"], r["to_do"])));

        string board = string.Concat(PdfText(results["board.pdf"]));
        Assert.Contains("No scale card was found", board, StringComparison.Ordinal);
        Assert.Equal(Names.Length, Directory.EnumerateFiles(results["sheets"], "*.pdf").Count());
        Assert.Contains("Not measured: take the photo again", PdfText(Path.Combine(results["sheets"], "Luc.pdf")).Single(), StringComparison.Ordinal);
        Assert.Contains("To be looked at first", PdfText(Path.Combine(results["sheets"], "Kaja.pdf")).Single(), StringComparison.Ordinal);
        string sheet = PdfText(Path.Combine(results["sheets"], "Celia.pdf")).Single();
        Assert.Contains("What gains most", sheet, StringComparison.Ordinal);
        Assert.Contains("Eye protection on", sheet, StringComparison.Ordinal);
    }

    [Fact]
    public void FiguresAreThoseOfThePhotoByItselfByteForByte()
    {
        using TempFolder folder = new();
        using TempFolder results = new();
        Class(folder, results);
        using JsonDocument all = JsonDocument.Parse(File.ReadAllText(results["class.json"]));
        Assert.Equal("deflectscan.class/1", all.RootElement.GetProperty("schema").GetString());
        foreach (JsonElement rod in all.RootElement.GetProperty("rods").EnumerateArray())
            Assert.Equal(MeasurementJson.Write(Of(rod.GetProperty("photo").GetString()!)).TrimEnd(), rod.GetProperty("measurement").GetRawText());
        Dictionary<string, string> celia = Table(results["class.csv"]).Single(r => r["student"] == "Celia");
        IntervalReport worst = Rod.Value.FollowsWorst!;
        Assert.Equal(Math.Round(worst.BowMm, 4), double.Parse(celia["worst_mm"], CultureInfo.InvariantCulture));
        Assert.Equal($"{worst.From}", celia["worst_from"]);
    }

    [Fact]
    public void NamesCanBeLeftOutEverywhere()
    {
        using TempFolder folder = new();
        using TempFolder results = new();
        (_, FakeRun run) = Class(folder, results, "--no-names", "--title", "Saturday");
        string[] files = [.. Directory.EnumerateFiles(results.Path, "*", SearchOption.AllDirectories)];
        foreach (string name in Names)
        {
            Assert.DoesNotContain(name, run.Out, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain(files, f => Path.GetFileName(f).Contains(name, StringComparison.OrdinalIgnoreCase));
            foreach (string file in files.Where(f => Path.GetExtension(f) is ".html" or ".csv" or ".json"))
                Assert.DoesNotContain(name, File.ReadAllText(file), StringComparison.OrdinalIgnoreCase);
            foreach (string file in files.Where(f => Path.GetExtension(f) == ".pdf"))
                Assert.DoesNotContain(name, string.Concat(PdfText(file)), StringComparison.OrdinalIgnoreCase);
        }

        Assert.Contains("Rod 12", run.Out, StringComparison.Ordinal);
        Assert.NotEqual(Enumerable.Range(1, 12).Select(n => $"Rod {n}"), Table(results["class.csv"]).Select(r => r["student"])); // the order of names does not show through
    }

    [Fact]
    public void TheSamePhotoSentByTwoIsSaid()
    {
        using TempFolder folder = new();
        using TempFolder results = new();
        FakeRun run = new() { Drawn = Picture, MeasurementOf = path => Of(Path.GetFileNameWithoutExtension(path) == "Darek" ? "Celia.jpg" : path) };
        foreach (string name in new[] { "Celia", "Darek", "Henk" })
            folder.File($"{name}.jpg", name);
        run.Run("class", folder.Path, "--out", results.Path);
        Assert.Contains("The same photo was sent by Celia and Darek", run.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("Henk and", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void NamesComeFromFoldersAndFromAList()
    {
        using TempFolder folder = new();
        using TempFolder results = new();
        Directory.CreateDirectory(folder["Alma B"]);
        File.WriteAllText(Path.Combine(folder["Alma B"], "Bruno.jpg"), "1"); // refused
        File.WriteAllText(Path.Combine(folder["Alma B"], "Celia.jpg"), "2"); // stands: the last with figures
        File.WriteAllText(Path.Combine(folder["Alma B"], "Luc.jpg"), "3"); // refused
        folder.File("Henk.jpg", "4");
        string list = folder.File("names.csv", "file,name\r\nHenk.jpg,\"Berg, \"\"Henk\"\"\"\r\n");
        FakeRun run = new() { MeasurementOf = Of, Drawn = Picture };
        Assert.Equal(0, run.Run("class", folder.Path, "--out", results.Path, "--names", list));
        List<Dictionary<string, string>> table = Table(results["class.csv"]);
        Assert.Equal(["Alma B", "Berg, \"Henk\""], table.Select(r => r["student"]).Order(StringComparer.Ordinal));
        Assert.Equal(("Celia.jpg", "3"), table.Where(r => r["student"] == "Alma B").Select(r => (r["photo"], r["tries"])).Single());
    }

    [Theory]
    [InlineData("Give the folder")]
    [InlineData("is no target", "FOLDER", "--target-bow", "soft")]
    [InlineData("from 0.5 to 100 mm", "FOLDER", "--target-bow", "900mm")]
    [InlineData("not in the folder", "FOLDER", "--names", "LIST")]
    [InlineData("There is no photo", "EMPTY")]
    public void WhatMakesNoSenseIsSaidBeforeTheWork(string says, params string[] args)
    {
        using TempFolder folder = new();
        using TempFolder results = new();
        folder.File("Alma.jpg", "1");
        string list = results.File("list.csv", "nobody.jpg,Nobody\n");
        Directory.CreateDirectory(results["empty"]);
        FakeRun run = new() { While = _ => Assert.Fail("it was measured") };
        Assert.Equal(2, run.Run(["class", .. args.Select(a => a switch { "FOLDER" => folder.Path, "LIST" => list, "EMPTY" => results["empty"], _ => a }), "--out", results["out"]]));
        Assert.Contains(says, run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void AForeignFileIsNotReplaced()
    {
        using TempFolder folder = new();
        using TempFolder results = new();
        results.File("board.html", "<!doctype html><html><body>my own</body></html>");
        (int code, FakeRun run) = Class(folder, results);
        Assert.Equal(2, code);
        Assert.Contains("board.html is there already", run.Error, StringComparison.Ordinal);
    }

    private static int Count(string text, string part) => (text.Length - text.Replace(part, "", StringComparison.Ordinal).Length) / part.Length;

    private static string[] PdfText(string path)
    {
        using PdfDocument pdf = PdfDocument.Open(path);
        return [.. pdf.GetPages().Select(p => string.Join(' ', p.GetWords().Select(w => w.Text)))];
    }
}

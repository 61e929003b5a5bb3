using System.Text.Json;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes.Samples;
using static DeflectScan.Cli.Tests.RecordsRun;

namespace DeflectScan.Cli.Tests;

/// <summary>The reference book, notes, comparisons and build sheets on the command line.</summary>
public class RecordsBookTests
{
    private static readonly string[] Guides =
        ["--guide", "reel 500, ring 25, frame high, two feet", "--guide", "reel 720, ring 16", "--guide", "reel 900, ring 10", "--guide", "reel 1200, ring 6", "--guide", "tip 0, reel 1500, ring 6"];

    [Fact]
    public void GuidesAreTypedAndShownFromBothEnds()
    {
        using TempFolder folder = new();
        Run(folder, "init");
        Assert.Equal(0, Run(folder, ["add", "--name", "Typed", "--length", "7ft", .. Guides]).Code);
        string shown = Run(folder, "show", "typed").Out;
        Assert.Contains("Length: 2133.6 mm", shown, StringComparison.Ordinal);

        // 1000 mm are 39.37 in: 39 6/16; 500 mm are 19.685 in: 19 11/16 (25.4 mm to the inch).
        Assert.Matches(@"1 +high, two feet +25 +1000\.0 +39 3/8 +500\.0 +19 11/16", shown);
        Assert.Matches(@"tip-top +– +6 +0\.0 +0 +1500\.0", shown);
        Assert.Equal(2, OneLine(Run(folder, "add", "--name", "Wrong", "--guide", "somewhere")));
        Assert.Equal(2, OneLine(Run(folder, "add", "--name", "Wrong", "--guide", "tip 0", "--as-measured")));
        Assert.Equal(3, OneLine(Run(folder, "add", "--name", "Wrong", "--as-measured")));
        Assert.Contains("1 build", Run(folder, "list").Out, StringComparison.Ordinal);

        Assert.Equal(0, Run(folder, "add", Photo(folder, "1.jpg", 1), "--build", "Typed", "--as-measured").Code);
        Assert.Matches(@"1 +– +– +402\.0 +15 13/16 +1120\.5", Run(folder, "show", "Typed").Out);
    }

    [Fact]
    public void ABuildIsMeantByHowItsNameBegins()
    {
        using TempFolder folder = new();
        Run(folder, "init");
        foreach (string name in new[] { "Anna: bass", "Ben: perch", "Ben: pike", "Ben" })
            Assert.Equal(0, Run(folder, "add", "--name", name).Code);
        Assert.StartsWith("Anna: bass", Run(folder, "show", "anna").Out, StringComparison.Ordinal);
        Assert.StartsWith("Ben\n", Run(folder, "show", "ben").Out, StringComparison.Ordinal);
        (int code, string output, string error) = Run(folder, "show", "Ben:");
        Assert.Equal(3, OneLine((code, output, error)));
        Assert.Contains("\"Ben: perch\"", error, StringComparison.Ordinal);
        Assert.Contains("\"Ben: pike\"", error, StringComparison.Ordinal);
        Assert.Equal(3, OneLine(Run(folder, "show", "%")));
        Assert.Equal(3, OneLine(Run(folder, "show", " ")));
    }

    [Fact]
    public void TheReferenceBookStartsALayout()
    {
        using TempFolder folder = new();
        Run(folder, "init");
        Run(folder, ["add", "--name", "Near", "--length", "2150", "--reel", "2500", "--use", "bass", "--side", "inside", .. Guides]);
        Run(folder, "add", "--name", "Far", "--length", "3000", "--reel", "5000", "--use", "surf", "--side", "inside");
        Run(folder, "add", "--name", "New", "--length", "2140", "--reel", "2500", "--use", "bass", "--side", "inside");
        string save = folder["start.json"];
        (int code, string output, string error) = Run(folder, "find", "--like", "New", "--start", "--for", "New", "--reel-to-tip", "1800mm", "--save", save, "--json");
        Assert.True(code == 0, error);
        JsonElement found = JsonDocument.Parse(output).RootElement;
        Assert.Equal(["Near", "Far"], found.GetProperty("found").EnumerateArray().Select(f => f.GetProperty("build").GetProperty("name").GetString()!));
        Assert.Equal("length 2150 mm, 10 mm longer; same reel class; same side; same use", found.GetProperty("found")[0].GetProperty("reason").GetString());

        // By hand: 500, 720, 900 mm stay; the running guides in proportion, 900 to 1800 mm for 900 to 1500 mm, a factor of 1.5.
        Assert.Equal([500, 720, 900, 1350, 1800], found.GetProperty("start").GetProperty("guides").EnumerateArray().Select(g => g.GetProperty("from_reel_mm").GetDouble()));
        Assert.Equal([1300, 1080, 900, 450, 0], LayoutJson.Read(File.ReadAllText(save)).Value!.Guides.Select(g => g.FromTipMm));
        Assert.Contains("Layout \"started from Near\"", Run(folder, "show", "New").Out, StringComparison.Ordinal);
        Assert.Equal(0, new FakeRun().Run("sheet", save, "--out", folder["start.pdf"]));

        Assert.Contains("Near", Run(folder, "find", "bas").Out, StringComparison.Ordinal);
        Assert.Contains("Nothing is like that", Run(folder, "find", "trout").Out, StringComparison.Ordinal);
        Assert.Equal(3, OneLine(Run(folder, "find", "trout", "--start")));
        Assert.Equal(2, OneLine(Run(folder, "find")));
        Assert.Equal(2, OneLine(Run(folder, "find", "bass", "--for", "New")));
        Assert.Equal(2, OneLine(Run(folder, "find", "bass", "--limit", "0")));
    }

    [Fact]
    public void NotesAndLayoutsAreKeptAndChosen()
    {
        using TempFolder folder = new();
        Run(folder, "init");
        Run(folder, "add", Photo(folder, "1.jpg", 1), "--name", "A", "--label", "first");
        Assert.Equal(3, OneLine(Run(folder, "note", "A", "--choose", "none")));
        Assert.Equal(2, OneLine(Run(folder, "note", "A")));
        Assert.Equal(2, OneLine(Run(folder, "note", "A", "--layout", "x")));
        Assert.Equal(2, OneLine(Run(folder, "note", "A", "--layout", "x", "--file", folder.File("bad.json", "{"))));
        Assert.Equal("Kept with \"A\".\n", Run(folder, "note", "A", "42 m, clean", "--kind", "test-cast", "--layout", "one more", "--suggested", "--choose", "one more").Out);
        string shown = Run(folder, "show", "A").Out;
        Assert.Contains("test cast: 42 m, clean", shown, StringComparison.Ordinal);
        Assert.Contains("Layout \"one more\", chosen: Suggested by the test of", shown, StringComparison.Ordinal);
        string save = folder["chosen.json"];
        Assert.Equal(0, Run(folder, "show", "A", "--save", save).Code);
        Assert.Equal([402, 102.5, 0], LayoutJson.Read(File.ReadAllText(save)).Value!.Guides.Select(g => g.FromTipMm));
        Assert.Equal(0, Run(folder, "note", "A", "--layout", "again", "--file", save).Code);
    }

    [Fact]
    public void TwoTestsOfABuildAreCompared()
    {
        using TempFolder folder = new();
        Run(folder, "init");
        Measurement bent = Bent(SampleMeasurement.Ok);
        string[] first = ["add", Photo(folder, "1.jpg", 1), "--name", "A", "--label", "first"];
        string[] second = ["add", Photo(folder, "2.jpg", 2), "--build", "A", "--label", "second"];
        Assert.Equal(0, Run(folder, Of(bent, first), first).Code);
        Assert.Equal(3, OneLine(Run(folder, "compare", "A")));
        Measurement moved = bent with { Guides = [bent.Guides[0], bent.Guides[1] with { Station = bent.Guides[1].Station with { Mm = 245.25 } }, bent.Guides[2]], Intervals = [bent.Intervals[0] with { Gap = bent.Intervals[0].Gap with { Mm = 20 } }, bent.Intervals[1]] };
        Assert.Equal(0, Run(folder, Of(moved, second), second).Code);

        (int code, string output, string error) = Run(folder, "compare", "A", "first", "second");
        Assert.True(code == 0, error);
        Assert.Contains("Guide 2 moved 30.0 mm toward the reel", output, StringComparison.Ordinal);
        JsonElement pair = JsonDocument.Parse(Run(folder, "compare", "A", "--json").Out).RootElement.GetProperty("pairs")[0];
        Assert.Equal((27.1, 20, -7.1), (pair.GetProperty("before").GetProperty("gap_mm").GetDouble(), pair.GetProperty("after").GetProperty("gap_mm").GetDouble(), Math.Round(pair.GetProperty("gap_change_mm").GetDouble(), 6)));
        JsonElement series = JsonDocument.Parse(Run(folder, "compare", "A", "--history", "--json").Out).RootElement;
        Assert.Equal(["first", "second"], series.EnumerateArray().Select(s => s.GetProperty("label").GetString()!));
        Assert.Equal(-7.1, Math.Round(series[1].GetProperty("gap_change_mm").GetDouble(), 6)); // of the pair that the measurement calls the largest
        Assert.Equal(0, Run(folder, "compare", "A", "--history", "--out", folder["pictures"]).Code);
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], File.ReadAllBytes(Path.Combine(folder["pictures"], "history.png"))[..4]);
        Assert.Equal(2, OneLine(Run(folder, "compare", "A", "first", "--history")));
        Assert.Equal(3, OneLine(Run(folder, "compare", "A", "third", "second")));
        Assert.Equal(3, OneLine(Run(folder, "compare", "A", "first", "first")));
    }

    [Fact]
    public void SheetsTablesAndDocumentsAreWritten()
    {
        using TempFolder folder = new();
        Run(folder, "init");
        Run(folder, "add", Photo(folder, "1.jpg", 1), "--name", "<script>alert(1)</script>", "--label", "first", "--remarks", "\"a\" & 'b'\n<b>");
        Run(folder, "add", "--name", "Without a photo");
        Assert.Equal(0, Run(folder, "show", "<script>", "--pdf", folder["a.pdf"], "--html", folder["a.html"], "--csv", folder["csv"], "--document", folder["m.json"], "--test", "first").Code);
        Assert.StartsWith("%PDF-", File.ReadAllText(folder["a.pdf"]), StringComparison.Ordinal);
        string html = File.ReadAllText(folder["a.html"]);
        Assert.Equal(0, html.Split("<script").Length - 1);
        Assert.Contains("&lt;script&gt;", html, StringComparison.Ordinal);
        Assert.Contains("eye protection", html, StringComparison.Ordinal);

        // Nothing is fetched: no address but data:, and the page says so itself.
        Assert.DoesNotMatch(@"(src|href)=""(?!data:)|url\(|@import", html);
        Assert.Contains("default-src 'none'", html, StringComparison.Ordinal);
        Assert.Equal(
            ["choices.csv", "guides.csv", "layout_guides.csv", "layouts.csv", "measured_guides.csv", "measurements.csv", "notes.csv", "pairs.csv", "proof_readings.csv", "proofs.csv", "revisions.csv", "standings.csv"],
            Directory.EnumerateFiles(folder["csv"]).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal));
        Assert.Equal(402, MeasurementJson.Read(File.ReadAllText(folder["m.json"])).Value!.Guides[0].StationMm);

        Assert.Equal(0, Run(folder, "show", "<script>", "Without", "--html", folder["both.html"]).Code);
        Assert.Equal(2, File.ReadAllText(folder["both.html"]).Split("<article>").Length - 1);
        Assert.Equal(0, Run(folder, "show", "--find", "photo", "--html", folder["found.html"]).Code);
        Assert.Contains("<h1>Without a photo</h1>", File.ReadAllText(folder["found.html"]), StringComparison.Ordinal);
        Assert.Equal(3, OneLine(Run(folder, "show", "--find", "nobody")));
        Assert.Equal(2, OneLine(Run(folder, "show")));
        Assert.Equal(2, OneLine(Run(folder, "show", "<script>", "Without", "--json")));
        Assert.Equal(3, OneLine(Run(folder, "show", "Without", "--document", folder["none.json"])));
        Assert.Equal(3, OneLine(Run(folder, "show", "Without", "--save", folder["none.json"])));
        Assert.Equal(3, OneLine(Run(folder, "show", "<script>", "--test", "third", "--html", folder["a.html"])));
        Assert.Equal(2, OneLine(Run(folder, "show", "Without", "--html", folder["no/such/folder.html"])));
    }

    [Fact]
    [Trait("Set", "long")]
    public void VerifyMeasuresAgain()
    {
        using TempFolder folder = new();
        Run(folder, "init");
        string[] add = ["add", DeflectScan.Scenes.Repository.Photo("students-few"), "--name", "A", "--label", "first"];
        Assert.Equal(0, Run(folder, Of(SampleMeasurement.Ok, add) with { ToolVersion = "0.0.1" }, add).Code);

        // The made-up figures are of a program that is not this one: other figures now are told and are no damage.
        (int code, string output, string error) = Run(folder, "verify", "--remeasure", "--json");
        Assert.Equal(0, code);
        JsonElement again = JsonDocument.Parse(output).RootElement.GetProperty("measured_again");
        Assert.Equal("other-version", again[0].GetProperty("verdict").GetString());
        Assert.Contains("A, first", error, StringComparison.Ordinal);
        Assert.Contains("0 of 1 measurement", Run(folder, "verify", "--remeasure").Out, StringComparison.Ordinal);

        // The same as if they were of this very program: that is a fault.
        using TempFolder other = new();
        Run(other, "init");
        string version = typeof(Measurement).Assembly.GetName().Version!.ToString(3);
        Assert.Equal(0, Run(other, Of(SampleMeasurement.Ok, add) with { ToolVersion = version }, add).Code);
        Assert.Equal(12, Run(other, "verify", "--remeasure").Code);
    }

    /// <summary>The sample with an axis that is long enough to be laid on another: an arc of radius 420 mm.</summary>
    private static Measurement Bent(Measurement m) => m with
    {
        Blank = new BlankReport(600, 80, [.. Enumerable.Range(0, 121).Select(i =>
        {
            double angle = i * 5 / 420.0;
            Vec2 mm = new(-420 * Math.Sin(angle), 420 * (1 - Math.Cos(angle)));
            return new AxisSample(i * 5, new(3400 + mm.X, 900 - mm.Y), mm, 2);
        })]),
    };
}

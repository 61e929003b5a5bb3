using System.Text.Json;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes.Samples;

namespace DeflectScan.Cli.Tests;

/// <summary>Many builds at a glance: sorted, filtered, compared, as one table.</summary>
public sealed class RecordsOverviewTests : IDisposable
{
    private readonly TempFolder _folder = new();

    public RecordsOverviewTests()
    {
        Ok("init");
        Add("Zander", "Ann", "2400mm", 1);
        Add("asp", "Bo", "1800mm", 2);
        Add("Perch", "ann b.", "2100mm", 3);
    }

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void TheListIsSortedAndFiltered()
    {
        Assert.Equal(["asp", "Perch", "Zander"], Names("--sort", "name"));
        Assert.Equal(["Zander", "Perch", "asp"], Names("--sort", "length"));
        Assert.Equal(["Perch", "asp", "Zander"], Names());
        Assert.Equal(["Perch", "Zander"], Names("--owner", "Ann", "--sort", "name"));
        Assert.Equal(["Zander"], Names("--owner", "ANN", "--sort", "length", "--size", "1"));
        Assert.Empty(Names("--use", "'; DROP TABLE builds; --"));
        Assert.Contains("Page 1 of 1, 2 builds", Ok("list", "--owner", "ann"), StringComparison.Ordinal);
    }

    [Fact]
    public void AllBuildsAreOneTable()
    {
        Ok("add", "--name", "no test yet");
        Ok("list", "--csv", _folder["all.csv"], "--sort", "name");
        string[] lines = File.ReadAllText(_folder["all.csv"]).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(5, lines.Length);
        Assert.StartsWith("build_id,name,owner,blank,blank_length_mm", lines[0], StringComparison.Ordinal);
        Assert.Contains(",asp,Bo,,1800,", lines[1], StringComparison.Ordinal);
        Assert.Contains(",Perch,ann b.,", lines[3], StringComparison.Ordinal);
        Assert.All(lines, l => Assert.Equal(26, l.Count(c => c == ',')));
        Ok("list", "--csv", _folder["all.csv"]); // its own file is replaced
        Assert.Equal(2, RecordsRun.Run(_folder, "list", "--csv", _folder.File("mine.csv", "a note of mine\n")).Code);
    }

    [Fact]
    public void TwoBuildsAreCompared()
    {
        Measurement bent = MeasurementJson.Read(DeflectScan.Scenes.TruthDocument.Text("clean-spinning")).Value!;
        foreach ((string build, int photo) in new[] { ("Zander", 11), ("Perch", 12) })
        {
            string[] add = ["add", RecordsRun.Photo(_folder, $"{photo}.jpg", photo, 400), "--build", build];
            Assert.Equal(0, RecordsRun.Run(_folder, RecordsRun.Of(bent, add), add).Code);
        }

        string shown = Ok("compare", "Zander", "--with", "Perch");
        Assert.Contains("two builds", shown, StringComparison.Ordinal);
        Assert.Contains("7 to tip-top", shown, StringComparison.Ordinal); // pairs are named as everywhere
        Assert.DoesNotContain(" ;", shown, StringComparison.Ordinal);
        Assert.Contains("tip-top", shown, StringComparison.Ordinal);
        Ok("add", "--name", "no test yet");
        Assert.Equal(3, RecordsRun.Run(_folder, "compare", "Zander", "--with", "no test yet").Code);
    }

    /// <summary>The sample has its guides inside the bend.</summary>
    [Fact]
    public void ALayoutIsNotStartedFromTheOtherSideNorFromSomethingUnlikeInSilence()
    {
        (int code, _, string error) = RecordsRun.Run(_folder, "find", "--side", "outside", "--start");
        Assert.Equal(3, code);
        Assert.Contains("other side", error, StringComparison.Ordinal);
        string rough = Ok("find", "--length", "5000mm", "--turn", "10", "--start");
        Assert.Contains("% like what was asked for", rough, StringComparison.Ordinal);
        Assert.DoesNotContain("% like what was asked for", Ok("find", "--length", "2400mm", "--start"), StringComparison.Ordinal);
    }

    /// <summary>Lists, a build's tests and the history name the running pair that follows worst, as the measurement does; the truth's pair is 5 to 6.</summary>
    [Theory]
    [InlineData("clean-spinning", "bow")]
    [InlineData("casting-top", "clearance")]
    public void ListsAndHistoriesNameThePairThatFollowsWorst(string scene, string by)
    {
        Measurement bent = MeasurementJson.Read(DeflectScan.Scenes.TruthDocument.Text(scene)).Value!;
        foreach (int photo in new[] { 31, 32 })
        {
            string[] add = ["add", RecordsRun.Photo(_folder, $"{photo}.jpg", photo, 400), "--build", "Zander"];
            Assert.Equal(0, RecordsRun.Run(_folder, RecordsRun.Of(bent, add), add).Code);
        }

        // By the contract's words, from the document's own figures: running pairs are those after the third guide inside, after the first outside.
        IntervalReport worst = by == "bow" ? bent.Intervals.Skip(2).MaxBy(i => i.BowMm)! : bent.Intervals.MinBy(i => i.ClearanceMm)!;
        string pair = $"{worst.From} to {(worst.To == bent.Guides.Count ? "tip-top" : worst.To)}, {by}";
        string figure = $"{(by == "bow" ? worst.BowMm : worst.ClearanceMm):0.0}";
        foreach (string shown in new[] { Flat("list"), Flat("find", "Zander"), Flat("show", "Zander") })
            Assert.Contains($"{pair} {figure}", shown, StringComparison.Ordinal);
        Assert.Contains(pair, Flat("compare", "Zander", "--history"), StringComparison.Ordinal);
        Assert.Equal("Zander", Names("--sort", "worst")[^1]); // the sample's bow of the others is 19.4 mm; those by clearance come after those by bow
        using JsonDocument json = JsonDocument.Parse(Ok("list", "--json", "--owner", "Ann", "--sort", "name"));
        JsonElement listed = json.RootElement.GetProperty("builds").EnumerateArray().Last().GetProperty("follows_worst");
        Assert.Equal((worst.From, by), (listed.GetProperty("from").GetInt32(), listed.GetProperty("by").GetString()));
        Ok("list", "--csv", _folder["all.csv"]);
        Assert.Contains($",{worst.From},{worst.To},{by},", File.ReadAllText(_folder["all.csv"]), StringComparison.Ordinal);

        string Flat(params string[] args) => System.Text.RegularExpressions.Regex.Replace(Ok(args), @"\s+", " ", System.Text.RegularExpressions.RegexOptions.None, TimeSpan.FromSeconds(5));
    }

    /// <summary>Where guides may be missing or be none, no pair stands in the lists either.</summary>
    [Fact]
    public void WhereGuidesAreInDoubtTheListNamesNoPair()
    {
        Measurement doubtful = SampleMeasurement.Ok with
        {
            Status = MeasurementStatus.NeedsReview, Findings = [DeflectScan.Findings.Finding.Review(DeflectScan.Findings.FindingCode.GuidesUncertain, "A guide may stand 402 mm from the tip.")],
        };
        string[] add = ["add", RecordsRun.Photo(_folder, "41.jpg", 41, 400), "--name", "doubtful"];
        Assert.Equal(4, RecordsRun.Run(_folder, RecordsRun.Of(doubtful, add), add).Code);
        using JsonDocument json = JsonDocument.Parse(Ok("list", "--json", "--sort", "worst"));
        JsonElement last = json.RootElement.GetProperty("builds").EnumerateArray().Last();
        Assert.Equal(("doubtful", JsonValueKind.Null), (last.GetProperty("name").GetString(), last.GetProperty("follows_worst").ValueKind));
    }

    [Fact]
    public void AWrongTestIsSetAsideAndOneOfAnotherBuildIsMoved()
    {
        foreach ((int photo, string label) in new[] { (21, "second"), (22, "third") })
            Ok("add", RecordsRun.Photo(_folder, $"{photo}.jpg", photo, 400), "--build", "Zander", "--label", label);
        Assert.Equal(2, RecordsRun.Run(_folder, "test", "Zander", "third").Code);
        Ok("test", "Zander", "third", "--set-aside", "the cord had slipped");
        Assert.Contains("set aside: the cord had slipped", Ok("show", "Zander"), StringComparison.Ordinal);
        Assert.DoesNotContain("third", Ok("compare", "Zander", "--history"), StringComparison.Ordinal);
        Ok("test", "Zander", "third", "--count-again");
        Assert.Contains("third", Ok("compare", "Zander", "--history"), StringComparison.Ordinal);
        Ok("test", "Zander", "third", "--move-to", "asp");
        Assert.DoesNotContain("third", Ok("show", "Zander"), StringComparison.Ordinal);
        Assert.Contains("third", Ok("show", "asp"), StringComparison.Ordinal);
        Ok("test", "asp", "third", "--set-aside", "");
        Assert.Equal(3, RecordsRun.Run(_folder, "test", "Zander", "third", "--count-again").Code);
        Assert.Contains("All is as it was written", Ok("verify"), StringComparison.Ordinal);

        // It goes along in an export, and comes out the same in another archive.
        Ok("export", _folder["all.zip"]);
        using TempFolder other = new();
        Assert.Equal(0, RecordsRun.Run(other, "init").Code);
        Assert.Equal(0, RecordsRun.Run(other, "import", _folder["all.zip"]).Code);
        Assert.Equal(Ok("show", "asp"), RecordsRun.Run(other, "show", "asp").Out);
        Assert.Contains("set aside", RecordsRun.Run(other, "show", "asp").Out, StringComparison.Ordinal);
        Ok("test", "asp", "third", "--move-to", "Zander");
        Assert.Contains("third", Ok("show", "Zander"), StringComparison.Ordinal);
        Assert.Contains("All is as it was written", Ok("verify"), StringComparison.Ordinal);
    }

    /// <summary>21 in are 533.4 mm; binary fractions make 533.4000000000001 of it.</summary>
    [Fact]
    public void LengthsInTablesAreTidy()
    {
        Ok("add", "--name", "inches", "--guide", "tip 21in, reel 10in", "--guide", "tip 8.1in, reel 22.9in");
        Ok("show", "inches", "--csv", _folder["csv"]);
        string guides = File.ReadAllText(_folder["csv/guides.csv"]);
        Assert.DoesNotMatch(@"\d\.\d{7,}", guides);
        Assert.DoesNotContain("-0,", guides, StringComparison.Ordinal);
        Assert.Contains("533.4,", guides, StringComparison.Ordinal);
    }

    private void Add(string name, string owner, string length, int photo) =>
        Ok("add", RecordsRun.Photo(_folder, $"{photo}.jpg", photo, 400), "--name", name, "--owner", owner, "--length", length);

    private string[] Names(params string[] options)
    {
        using JsonDocument json = JsonDocument.Parse(Ok(["list", "--json", .. options]));
        return [.. json.RootElement.GetProperty("builds").EnumerateArray().Select(b => b.GetProperty("name").GetString()!)];
    }

    private string Ok(params string[] args)
    {
        (int code, string output, string error) = RecordsRun.Run(_folder, RecordsRun.Of(SampleMeasurement.Ok, args), args);
        Assert.True(code == 0, $"{string.Join(' ', args)}: {error}");
        return output;
    }
}

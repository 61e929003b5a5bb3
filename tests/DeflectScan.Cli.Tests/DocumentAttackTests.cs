using System.Diagnostics;
using DeflectScan.Calibration;
using DeflectScan.Cli.Running;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes.Attacks;

namespace DeflectScan.Cli.Tests;

/// <summary>Documents that a stranger made: each command that reads one ends in a plain sentence, an exit status of its own and nothing worse.</summary>
public class DocumentAttackTests
{
    /// <summary>Of each command; the long set tries more of the same row.</summary>
    private const int Mutants = 40;
    private const int ManyMutants = 150;

    /// <summary>What is attacked: a name for each, with how its whole document is made.</summary>
    private static string Whole(string kind, TempFolder folder)
    {
        FakeRun run = new();
        switch (kind)
        {
            case "layout":
                Assert.Equal(0, run.Run("plan", "--rod-length", "7ft", "--reel-at", "300mm", "--save", folder["plan.json"]));
                return File.ReadAllText(folder["plan.json"]);
            case "casts":
                Assert.Equal(0, run.Run("testcast", folder["notes.json"], "--seen", "coils-bunch-heard", "--first-guide", "21in"));
                return File.ReadAllText(folder["notes.json"]);
            case "marks":
                return """{"schema":"deflectscan.marks/1","tip":[3411.2,911.9],"butt":[968,1510.7],"blank":[[3280.1,536]],"rings":[[1694.6,963.3],[1,2]],"reel_front":[700.5,1790.2],"complete":true}""";
            default:
                return File.ReadAllText(WhatIfTests.Document(folder, "casting-top"));
        }
    }

    /// <summary>The document, the command, the series of mutants.</summary>
    public static TheoryData<string, string, int> Attacks => new()
    {
        { "measurement", "rings DOCUMENT --pull 1kg", 1 },
        { "measurement", "rings DOCUMENT --pull 1kg --json", 1 },
        { "measurement", "whatif DOCUMENT --move 2=+5mm", 1 },
        { "measurement", "whatif DOCUMENT --suggested --json", 1 },
        { "measurement", "blank DOCUMENT", 1 },
        { "measurement", "sheet DOCUMENT --out sheet.pdf", 1 },
        { "measurement", "tape DOCUMENT --out tape.pdf", 1 },
        { "measurement", "measure photo.jpg --marks DOCUMENT", 1 },
        { "layout", "sheet DOCUMENT --out sheet.pdf", 2 },
        { "layout", "tape DOCUMENT --out tape.pdf", 2 },
        { "casts", "testcast DOCUMENT --seen runs-well --first-guide 21in", 3 },
        { "marks", "measure photo.jpg --marks DOCUMENT", 4 },
    };

    [Theory]
    [MemberData(nameof(Attacks))]
    public void MutantsEndInOneSentence(string kind, string command, int seed) => Attack(kind, command, seed, Mutants);

    [Theory]
    [MemberData(nameof(Attacks))]
    [Trait("Set", "long")]
    public void ManyMutantsEndInOneSentence(string kind, string command, int seed) => Attack(kind, command, seed, ManyMutants);

    [Fact]
    public void MutantsOfALensProfileAreReadOrRefusedInOneSentence()
    {
        double[][] covariance = [.. Enumerable.Range(0, 7).Select(i => Enumerable.Range(0, 7).Select(j => i == j ? 1e-6 : 0).ToArray())];
        LensProfile profile = new("made up", new LensIdentity("Maker", "Model", null, 4.2, 26), 4032, 3024, 3000, 2015.5, 1511.5, [0.01, -0.004, 0, 0, 0.001], covariance, 0.2);
        string whole = profile.Write();
        Assert.Equal(3000, LensProfile.Read(whole).FocalPx);
        DocumentMutator mutator = new(whole);
        int refused = 0;
        for (int number = 0; number < 2000; number++)
        {
            try
            {
                LensProfile read = LensProfile.Read(mutator.Make(5, number));
                Assert.True(double.IsFinite(read.FocalPx) && read.FocalPx > 0 && read.Distortion.All(double.IsFinite), $"mutant {number}");
            }
            catch (InvalidDataException e)
            {
                refused++;
                Assert.True(AttackRun.IsOneSentence(e.Message), $"mutant {number}: {e.Message}");
            }
        }

        Assert.InRange(refused, 500, 1999);
    }

    /// <summary>A document whose every text tries to steer a terminal: plain output must hold no control character, whatever the command.</summary>
    [Theory]
    [InlineData("rings DOCUMENT --pull 1kg")]
    [InlineData("whatif DOCUMENT --move 2=+5mm")]
    [InlineData("blank DOCUMENT")]
    [InlineData("bend DOCUMENT")]
    [InlineData("spacing DOCUMENT")]
    public void TextOfADocumentCannotSteerTheTerminal(string command)
    {
        using TempFolder folder = new();
        string evil = File.ReadAllText(WhatIfTests.Document(folder, "casting-top"));
        Measurement m = MeasurementJson.Read(evil).Value!;
        const string Evil = "\u001b[2J\u001b]0;owned\u0007\u202e<script>[red]";
        m = m with
        {
            Photo = m.Photo is { } p ? p with { FileName = Evil, CameraMake = Evil, CameraModel = Evil, LensModel = Evil } : null,
            Calibration = m.Calibration! with { Lens = Evil },
            Suggestion = m.Suggestion is { } s ? s with { Why = Evil } : null,
            Findings = [Findings.Finding.Review(Findings.FindingCode.LineNotSeen, Evil)],
        };
        string document = folder.File("evil.json", MeasurementJson.Write(m));
        FakeRun run = new();
        run.Run(Words(command, document, folder));
        Assert.NotEqual("", run.Out + run.Error);
        Assert.DoesNotContain(run.Out + run.Error, c => (char.IsControl(c) && c != '\n') || c == '\u202e');
    }

    private static void Attack(string kind, string command, int seed, int mutants)
    {
        using TempFolder folder = new();
        DocumentMutator mutator = new(Whole(kind, folder));
        HashSet<int> codes = [];
        for (int number = 0; number < mutants; number++)
        {
            string document = folder.File("mutant.json", mutator.Make(seed, number));
            FakeRun run = new();
            long start = Stopwatch.GetTimestamp();
            int code = run.Run(Words(command, document, folder));
            codes.Add(code);
            Assert.True(code is ExitCode.Ok or ExitCode.WrongUsage or ExitCode.Refused or ExitCode.NeedsReview, $"{command}, mutant {number} of seed {seed}: exit {code}: {run.Error}");
            Assert.True(code is ExitCode.Ok or ExitCode.NeedsReview || run.Error.Split('\n', StringSplitOptions.RemoveEmptyEntries).All(AttackRun.IsOneSentence), $"mutant {number}: {run.Error}");
            Assert.DoesNotContain(run.Out + run.Error, c => (char.IsControl(c) && c != '\n') || c == '\u202e');
            Assert.True(Stopwatch.GetElapsedTime(start) < TimeSpan.FromSeconds(20), $"mutant {number} took {Stopwatch.GetElapsedTime(start)}");
        }

        Assert.Contains(codes, c => c is ExitCode.Refused or ExitCode.WrongUsage);
    }

    private static string[] Words(string command, string document, TempFolder folder) =>
        [.. command.Split(' ').Select(w => w == "DOCUMENT" ? document : w.EndsWith(".pdf", StringComparison.Ordinal) ? folder[w] : w)];
}

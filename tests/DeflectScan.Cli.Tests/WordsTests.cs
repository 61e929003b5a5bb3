using DeflectScan.Checking;
using DeflectScan.Findings;
using DeflectScan.Scenes.Samples;

namespace DeflectScan.Cli.Tests;

/// <summary>What is said, in which order, and how often.</summary>
public class WordsTests
{
    private const string NinetyDegrees = "90 degrees";

    [Fact]
    public void OneCauseIsOneSentenceWithItsPlaces()
    {
        int[] places = [.. Enumerable.Range(0, 15).Select(i => 110 + (50 * i))];
        FakeRun run = new()
        {
            Measurement = SampleMeasurement.Ok with
            {
                Status = MeasurementStatus.NeedsReview,
                Findings = [.. places.Select(p => Finding.Review(FindingCode.GuidesUncertain, $"The ring {p} mm from the tip is not sure: mark it."))],
            },
        };
        run.Run("measure", "photo.jpg");
        string line = Assert.Single(run.Out.Split('\n'), l => l.Contains("is not sure", StringComparison.Ordinal));
        Assert.Contains("The ring 110, 160, 210", line, StringComparison.Ordinal);
        Assert.Contains("mm from the tip is not sure: mark it.", line, StringComparison.Ordinal);
        run.Run("measure", "photo.jpg", "--json");
        Assert.Equal(15, run.Out.Split("is not sure").Length - 1); // the document keeps all
    }

    /// <summary>A terminal of 80 columns breaks a longer line in the middle of a word.</summary>
    [Fact]
    public void NothingIsWiderThanTheTerminal()
    {
        using TempFolder folder = new();
        string document = WhatIfTests.Document(folder);
        foreach (string[] command in new string[][] { ["measure", "photo.jpg", "--budget"], ["whatif", document, "--add", "500mm"], ["spacing", document], ["rings", document], ["spacing", document, "--units", "in"] })
        {
            FakeRun run = new() { AtTerminal = true, Columns = 80 };
            Assert.Equal(0, run.Run(command));
            string result = run.Out[(run.Out.LastIndexOf('\r') + 1)..]; // how far it is, is written over
            Assert.True(result.Length > 200, string.Join(' ', command));
            Assert.All(result.Split('\n'), l => Assert.InRange(l.Length, 0, 80));
        }
    }

    [Fact]
    public void SharesAreShownOnDemand()
    {
        FakeRun run = new();
        run.Run("measure", "photo.jpg");
        Assert.DoesNotContain("Tape a distance.", run.Out, StringComparison.Ordinal);
        run.Run("measure", "photo.jpg", "--budget");
        Assert.Contains("What makes them uncertain", run.Out, StringComparison.Ordinal);
        Assert.Contains("Tape a distance.", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void TheCautionComesBeforeTheTechnicalLinesAndNamesTheAngle()
    {
        FakeRun run = new();
        run.Run("measure", "photo.jpg");
        int caution = run.Out.IndexOf(NinetyDegrees, StringComparison.Ordinal);
        Assert.InRange(caution, 0, run.Out.IndexOf("Scale:", StringComparison.Ordinal));
        foreach (string[] help in new[] { ["rings", "--help"], ["records", "add", "--help"], new[] { "measure", "--help" } })
        {
            Assert.Equal(0, run.Run(help));
            Assert.Contains(NinetyDegrees, string.Join(' ', run.Out.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
        }

        run.Check = new CheckReport(null, [new("tilt", CheckVerdict.Good, null, "Square.", "")]);
        run.Run("check", "photo.jpg");
        Assert.Contains(NinetyDegrees, run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void AUsablePhotoIsNotToBeTakenAgain()
    {
        FakeRun run = new() { Check = new CheckReport(null, [new("sharpness", CheckVerdict.Doubtful, FindingCode.Blurred, "Soft.", "Hold the camera still.")]) };
        run.Run("check", "photo.jpg");
        Assert.DoesNotContain("take the photo again", run.Out, StringComparison.Ordinal);
        Assert.Contains("What would make it surer", run.Out, StringComparison.Ordinal);
        run.Check = new CheckReport(null, [new("cards", CheckVerdict.Useless, FindingCode.CardMissing, "None.", "Stand a card there.")]);
        run.Run("check", "photo.jpg");
        Assert.Contains("take the photo again", run.Out, StringComparison.Ordinal);
    }

    /// <summary>From a rod at 70 degrees twice the load would turn the tip far beyond 90: the default range ends there, and no bend is warned about.</summary>
    [Fact]
    public void BendShowsNoTipBeyondSquareUnasked()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        string rod = BendTests.Document(folder, "loads-deep", 18.5);
        Assert.InRange(run.Run("bend", rod, "--save", folder["best.json"]), 0, 4);
        Assert.DoesNotContain("2x", run.Out.Split("Gaps and bows")[0].Split("Bends")[1], StringComparison.Ordinal);
        Assert.Single(run.Out.Split('\n'), l => l.Contains("Everyone in the room wears eye protection", StringComparison.Ordinal));
        Assert.Equal(0, run.Run("sheet", folder["best.json"], "--out", folder["best.pdf"]));
        run.Run("bend", rod, "--at", "1.5x,2x,3x");
        Assert.Single(run.Out.Split('\n'), l => l.Contains("more than the 90", StringComparison.Ordinal));
    }

    [Fact]
    public void ABlankIsDescribedInWordsFirst()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        string rod = BendTests.Document(folder, "loads-mid", 18.5);
        Assert.InRange(run.Run("blank", rod), 0, 4);
        Assert.Matches("^(Fast|Moderate|Slow) under this load: it bends ", run.Out.Split('\n')[1]);
        Assert.DoesNotContain("EI in", run.Out, StringComparison.Ordinal);
        Assert.InRange(run.Run("blank", rod, "--stiffness"), 0, 4);
        Assert.Contains("EI in", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void ANoteOfSeveralWordsIsToBeQuoted()
    {
        using TempFolder folder = new();
        RecordsRun.Fill(folder, 1);
        (int code, _, string error) = RecordsRun.Run(folder, "note", "Build 1", "hello", "world");
        Assert.Equal(2, code);
        Assert.Contains("quotes", error, StringComparison.Ordinal);
    }

    [Fact]
    public void ACastThatRunsWellNeedsNoFirstGuide()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(0, run.Run("testcast", folder["n.json"], "--seen", "runs-well"));
        Assert.Equal(0, run.Run("testcast", folder["n.json"]));
        Assert.Contains("runs well", run.Out, StringComparison.Ordinal);
        Assert.Equal(2, run.Run("testcast", folder["n.json"], "--seen", "line-slaps-blank"));
    }

    /// <summary>Casts noted by testcast are notes of the build, and give the next move like those in a file.</summary>
    [Fact]
    public void TestCastsAreNotesOfTheBuild()
    {
        using TempFolder folder = new();
        RecordsRun.Fill(folder, 1);
        FakeRun run = new();
        Assert.Equal(0, run.Run("testcast", "--build", "Build 1", "--archive", folder["archive"], "--seen", "coils-bunch-heard", "--first-guide", "21in", "--remark", "wind, 3 Bft"));
        Assert.Contains("move guide 1 by 12.7 mm", run.Out, StringComparison.Ordinal);
        Assert.Contains("test cast: coils-bunch-heard; first guide 533.4 mm from the reel; wind, 3 Bft", RecordsRun.Run(folder, "show", "Build 1").Out, StringComparison.Ordinal);
        Assert.Equal(0, RecordsRun.Run(folder, "note", "Build 1", "line-slaps-blank; first guide 540 mm from the reel", "--kind", "test-cast").Code);
        Assert.Equal(0, RecordsRun.Run(folder, "note", "Build 1", "42 m with the wind", "--kind", "test-cast").Code);
        Assert.Equal(0, run.Run("testcast", "--build", "Build 1", "--archive", folder["archive"]));
        Assert.Contains("wind, 3 Bft", run.Out, StringComparison.Ordinal);
        Assert.Contains("move guide 1 by 6.4 mm", run.Out, StringComparison.Ordinal); // the direction turned round: half the step
        Assert.Equal(2, run.Run("testcast", folder["n.json"], "--build", "Build 1", "--archive", folder["archive"]));
    }

    [Fact]
    public void TheTipTopHasOneName()
    {
        FakeRun run = new() { MeasurementOf = path => SampleMeasurement.Ok with { Photo = SampleMeasurement.Ok.Photo! with { Sha256 = path } } };
        Assert.Equal(0, run.Run("measure", "a.jpg", "b.jpg", "--repeat"));
        Assert.Contains("gap 2 to tip-top", run.Out, StringComparison.Ordinal);
    }

    /// <summary>The same file twice is one observation; with it alone nothing can be put together.</summary>
    [Fact]
    public void ACopyOfAPhotoCountsOnce()
    {
        FakeRun run = new();
        Assert.Equal(3, run.Run("measure", "a.jpg", "copy.jpg", "--repeat"));
        Assert.Contains("copy.jpg was left out: it is a copy of a.jpg", run.Out, StringComparison.Ordinal);
        run.MeasurementOf = path => SampleMeasurement.Ok with { Photo = SampleMeasurement.Ok.Photo! with { Sha256 = path == "b.jpg" ? "b" : "a" } };
        Assert.Equal(0, run.Run("measure", "a.jpg", "b.jpg", "copy.jpg", "--repeat"));
        Assert.Contains("2 of 3 photos together", run.Out, StringComparison.Ordinal);
    }
}

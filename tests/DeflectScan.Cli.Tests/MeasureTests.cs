using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes.Samples;
using DeflectScan.Tracing;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Tests;

public class MeasureTests
{
    [Fact]
    public void EveryFlagReachesTheMeasurement()
    {
        using TempFolder folder = new();
        string marks = folder.File("marks.json", """{"schema":"deflectscan.marks/1","tip":[1.5,2]}""");
        string lens = folder.File("lens.json");
        FakeRun run = new();
        run.Run(
            "measure", "photo.jpg", "--guides", "8", "--length", "2100.5mm", "--side", "outside", "--marks", marks, "--from-reel", "555mm", "--hold", "2",
            "--card-scale", "0.985±0.001", "--card-off", "3mm", "--card-bend", "1mm", "--time-limit", "30", "--taped", "2-5=612mm±1", "--taped", "3-tip=400mm", "--pull-direction", "-110.5", "--load", "2kg", "--units", "in", "--lens", lens);
        Assert.Equal(
            new MeasureOptions
            {
                GuideCount = 8, BlankLengthMm = 2100.5, Side = BendSide.Outside, Marks = run.Options!.Marks, FirstGuideFromReelMm = 555, HoldGuides = 2,
                CardScale = 0.985, PullDirectionDeg = -110.5, LoadN = 19.6133, Units = LengthUnit.Inches, LensFile = lens,
                LensFolders = LensFolders.All, CardScalePlusMinus = 0.001, CardOffMm = 3, CardBendMm = 1, TimeLimit = TimeSpan.FromSeconds(30), Taped = run.Options.Taped,
            },
            run.Options);
        Assert.Equal(new Vec2(1.5, 2), run.Options.Marks.TipPx);
        Assert.Equal([new TapedDistance(2, 5, 612, 1), new TapedDistance(3, null, 400, 2)], run.Options.Taped);
        run.Run("measure", "photo.jpg");
        Assert.Equal(MeasureOptions.Default with { LensFolders = LensFolders.All }, run.Options);
        run.Run("measure", "photo.jpg", "--at-rest");
        Assert.Equal(MeasureOptions.Default with { LensFolders = LensFolders.All, AtRest = true }, run.Options);
        Assert.Equal(2, run.Run("measure", "photo.jpg", "--at-rest", "--load", "2kg"));
    }

    [Fact]
    public void ABadMarksFileIsWrongUsageInOneSentence()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(2, run.Run("measure", "photo.jpg", "--marks", folder.File("marks.json", "{")));
        Assert.Equal("The marks file is not JSON (line 1).\n", run.Error);
    }

    [Fact]
    public void WithJsonStandardOutputIsTheDocumentAlone()
    {
        FakeRun run = new();
        run.Run("measure", "photo.jpg", "--json");
        Assert.Equal(MeasurementJson.Write(SampleMeasurement.Ok), run.Out);
        Assert.Equal("Opening the photo\n", run.Error);
        using TempFolder folder = new();
        run.Run("measure", "photo.jpg", "--json", "--out", folder.Path);
        Assert.Equal(run.Out, File.ReadAllText(folder[ResultsFolder.Document]));
    }

    [Fact]
    public void TheFolderGetsTheDocumentAndThePictures()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(0, run.Run("measure", "photo.jpg", "--out", folder["new/deep"]));
        Assert.Equal(["measurement.json", "overlay.png", "unrolled.png"], Files(folder["new/deep"]));
        Assert.Equal(FakeRun.Picture[^30..], File.ReadAllBytes(folder["new/deep/overlay.png"])[^30..]);
        run.Measurement = SampleMeasurement.Refused with { Photo = SampleMeasurement.Ok.Photo };
        Assert.Equal(3, run.Run("measure", "photo.jpg", "--out", folder["new/deep"]));
        Assert.Equal(["measurement.json", "overlay.png"], Files(folder["new/deep"])); // the strip of the run before would mislead
    }

    [Theory]
    [InlineData("overlay.png", ".")]
    [InlineData("Overlay.PNG", ".")]
    [InlineData("unrolled.png", "link-to-folder")]
    public void ThePhotoIsNeverWrittenOver(string name, string output)
    {
        using TempFolder folder = new();
        string photo = folder.File(name, "precious");
        Directory.CreateSymbolicLink(folder["link-to-folder"], folder.Path);
        File.CreateSymbolicLink(folder["link.jpg"], photo);
        foreach (string path in new[] { photo, folder["link.jpg"] })
        {
            FakeRun run = new();
            Assert.Equal(2, run.Run("measure", path, "--out", Path.Combine(folder.Path, output)));
            Assert.Null(run.Options);
            Assert.Equal("precious", File.ReadAllText(photo));
        }
    }

    [Fact]
    public void AFolderThatCannotBeMadeIsWrongUsage()
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(2, run.Run("measure", "photo.jpg", "--out", Path.Combine(folder.File("file"), "below")));
        Assert.Null(run.Options);
    }

    /// <summary>Where guides may be missing or be none, no figure of theirs stands in the headline, and the side in doubt is said.</summary>
    [Theory]
    [InlineData(false, "which guides there are is in doubt")]
    [InlineData(true, "the side of the bend that the guides stand on is in doubt")]
    public void WhereGuidesAreInDoubtNoPairIsNamed(bool side, string said)
    {
        FakeRun run = new()
        {
            Measurement = SampleMeasurement.Ok with { Status = MeasurementStatus.NeedsReview, Findings = [Finding.Review(FindingCode.GuidesUncertain, "A guide may be missing.") with { IsOfSide = side }] },
        };
        run.Run("measure", "photo.jpg");
        Assert.Contains(said, run.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("Largest gap:", run.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("Follows worst", run.Out, StringComparison.Ordinal);
    }

    /// <summary>A doubt with a place holds back only the pairs that it lies in, and has a number that stands at the place on the overlay, too.</summary>
    [Fact]
    public void OnlyTheStretchInDoubtIsLeftOut()
    {
        Finding doubt = Finding.Review(FindingCode.GuidesUncertain, "It is uncertain whether a guide stands 110 mm from the tip.") with { Places = [FindingPlace.At(110)] };
        FakeRun run = new() { Measurement = SampleMeasurement.Ok with { Status = MeasurementStatus.NeedsReview, Findings = [doubt] } };
        Assert.Equal(4, run.Run("measure", "photo.jpg"));
        Assert.Contains("In doubt, and left out here: 2 to tip-top", run.Out, StringComparison.Ordinal);
        Assert.Contains("Largest gap: 1 to 2, 27.1 ±0.6 mm.", run.Out, StringComparison.Ordinal);
        Assert.Contains("Largest bow: 1 to 2, 6.3 ±0.3 mm.", run.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("Follows worst of the running pairs", run.Out, StringComparison.Ordinal);
        Assert.Contains("?1 review (guides-uncertain)", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void TheTableSaysWhatABuilderNeeds()
    {
        FakeRun run = new();
        run.Run("measure", "photo.jpg");
        string[] told =
        [
            "photo.jpg: ok", "cards A, C", "1710.3 mm (67.33 in, 67 5/16 in) traced", "inside of the bend (spinning)", "402.0 ±1.4", "15.83", "15 13/16", "1120.5",
            "38.7 ±0.3", "6.1°", "27.1 ±0.6", "6.3 ±0.3", "touches the blank", "Largest gap: 1 to 2, 27.1 ±0.6 mm.", "Largest bow: 2 to tip-top, 19.4 ±0.3 mm.", "Follows worst of the running pairs: 2 to tip-top, bow 19.4 ±0.3 mm.",
            "Add a guide 102.5 mm (4.04 in, 4 1/16 in)", "Move guide 2 from 215.3 mm", "to 231.0 mm", "Largest bow of the running pairs 19.4 -> 8.8 mm", "note (lens-unknown)",
            "eye protection", "the cord's line", "maker's rating", "clamp it soundly", "Local rules",
        ];
        Assert.All(told, t => Assert.Contains(t, run.Out, StringComparison.Ordinal));
        run.Run("measure", "photo.jpg", "--units", "in");
        Assert.Contains("Largest gap: 1 to 2, 1.07 ±0.03 in.", run.Out, StringComparison.Ordinal);
        Assert.Contains("Add a guide 4.04 in, 4 1/16 in (102.5 mm)", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void PipedTextIsPlainAndColoursNeedATerminal()
    {
        FakeRun run = new();
        run.Run("measure", "photo.jpg");
        Assert.DoesNotContain('\u001b', run.Out + run.Error);
        Assert.DoesNotContain('─', run.Out);
        run = new() { AtTerminal = true, Colour = true };
        run.Run("measure", "photo.jpg");
        Assert.Contains("\u001b[", run.Out, StringComparison.Ordinal);
        run = new() { AtTerminal = true, Colour = false }; // NO_COLOR at a terminal
        run.Run("measure", "photo.jpg");
        Assert.DoesNotContain('\u001b', run.Out);
        Assert.All(run.Out.Split('\n'), line => Assert.True(line.Length <= 100 || !line.Contains("±", StringComparison.Ordinal) || line.StartsWith("Scale", StringComparison.Ordinal)));
    }

    [Fact]
    public void ShiftsAloneAreListedToo()
    {
        FakeRun run = new()
        {
            Measurement = SampleMeasurement.Ok with
            {
                Suggestion = SampleMeasurement.Ok.Suggestion! with { AddAtMm = null, Moves = [new MoveReport(2, 900, 871)] },
            },
        };
        run.Run("measure", "photo.jpg");
        Assert.Contains("Move guide 2 from 900.0 mm (35.43 in, 35 7/16 in) to 871.0 mm", run.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("Add a guide", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void UntrustedTextCannotSteerTheTerminal()
    {
        FakeRun run = new()
        {
            Measurement = SampleMeasurement.Ok with
            {
                Calibration = SampleMeasurement.Ok.Calibration! with { Lens = "\u001b[31mprofile" },
                Findings = [Finding.Review(FindingCode.LineNotSeen, "Evil \u001b[2J[bold]text[/] here.")],
            },
        };
        run.Run("measure", "a\u001b]0;owned\u0007[red]b\u202e.jpg");
        Assert.DoesNotContain(run.Out, c => char.IsControl(c) && c != '\n');
        Assert.DoesNotContain('\u202e', run.Out);
        Assert.Contains("[red]b", run.Out, StringComparison.Ordinal);
        Assert.Contains("[bold]text[/]", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void SeveralPhotosLeaveOneDocumentAndOneOverlay()
    {
        using TempFolder folder = new();
        FakeRun run = new() { MeasurementOf = path => SampleMeasurement.Ok with { Photo = SampleMeasurement.Ok.Photo! with { Sha256 = path } } };
        Assert.Equal(0, run.Run("measure", "a.jpg", "b.jpg", "--repeat", "--json", "--out", folder.Path));
        Assert.Equal([ResultsFolder.Overlay, ResultsFolder.Repeat], Files(folder.Path));
        Assert.Equal(run.Out, File.ReadAllText(folder[ResultsFolder.Repeat]));
        Assert.Contains("\"overlay_of\": \"a.jpg\"", run.Out, StringComparison.Ordinal);
        run = new() { Measurement = SampleMeasurement.Refused };
        Assert.Equal(3, run.Run("measure", "a.jpg", "b.jpg", "--repeat", "--out", folder.Path));
        Assert.Equal([ResultsFolder.Repeat], Files(folder.Path)); // no picture of an earlier run stays behind
    }

    [Fact]
    public void APhotosNameIsNoResponseFile()
    {
        FakeRun run = new();
        Assert.Equal(0, run.Run("measure", "@photo.jpg"));
    }

    private static IEnumerable<string?> Files(string folder) => Directory.GetFiles(folder).Select(Path.GetFileName).Order(StringComparer.Ordinal);
}

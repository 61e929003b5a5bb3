using DeflectScan.Findings;
using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Model;
using DeflectScan.Records.Storage;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Records.Tests;

public class ArchiveTests
{
    [Fact]
    public void ABuildComesBackAsItWasGiven()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        BuildFacts facts = MadeUp.Facts(7);
        NewMeasurement made = MadeUp.Measurement(MadeUp.Photo(scratch.Folder("p"), 1), 3);
        string id;
        using (ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]))
        {
            id = writer.AddBuild(facts);
            writer.AddMeasurement(id, made);
        }

        using ArchiveReader reader = Archive.OpenForReading(scratch["a"]);
        Build build = reader.Build(id)!;
        Assert.Equal(facts with { Guides = [] }, build.Facts with { Guides = [] });
        Assert.Equal(facts.Guides, build.Facts.Guides);
        StoredMeasurement kept = Assert.Single(build.Measurements);
        Assert.Equal(MeasurementJson.Write(made.Measurement), reader.Document(kept));
        Assert.Equal(File.ReadAllBytes(made.PhotoPath), File.ReadAllBytes(reader.PhotoPath(kept)));
        Assert.Equal(made.LensProfile, reader.LensProfile(kept));
        MeasureOptions settings = SettingsJson.Read(kept.Settings);
        Assert.Equal(made.Options with { Marks = Marks.None }, settings with { Marks = Marks.None });
        Assert.Equal(made.Options.Marks.TipPx, settings.Marks.TipPx);
    }

    [Fact]
    public void EverySettingThatBearsOnFiguresIsKept()
    {
        // A field that joins MeasureOptions must be written to the settings, or be named here with its reason.
        string[] keptElsewhereOrWithoutEffect = ["Default", "LensFile", "LensFolders", "Units", "PhotoLimits", "TimeLimit"];
        string[] kept = ["GuideCount", "BlankLengthMm", "Side", "Marks", "FirstGuideFromReelMm", "HoldGuides", "CardScale", "CardScalePlusMinus", "CardOffMm", "CardBendMm", "Taped", "PullDirectionDeg", "LoadN", "AtRest"];
        Assert.Equal(
            [.. kept.Concat(keptElsewhereOrWithoutEffect).Order(StringComparer.Ordinal)],
            typeof(MeasureOptions).GetProperties().Select(p => p.Name).Order(StringComparer.Ordinal));
        MeasureOptions all = new()
        {
            GuideCount = 7, BlankLengthMm = 2134.5, Side = Tracing.BendSide.Outside, FirstGuideFromReelMm = 533.4, HoldGuides = 2, CardScale = 0.995, CardScalePlusMinus = 0.002, CardOffMm = 3.5, CardBendMm = 0.25,
            Taped = [new TapedDistance(2, 5, 612, 1), new TapedDistance(3, null, 700, 2)], PullDirectionDeg = -88.5, LoadN = 18.5, AtRest = true,
            Marks = new Marks(new(1, 2), new(3, 4), [new(5, 6.25)], [new(7, 8)], new(9, 10)),
        };
        string text = SettingsJson.Write(all);
        Assert.Equal(text, SettingsJson.Write(SettingsJson.Read(text)));
        MeasureOptions read = SettingsJson.Read(text);
        Assert.Equal(all.Taped, read.Taped);
        Assert.Equal(all with { Marks = Marks.None, Taped = [] }, read with { Marks = Marks.None, Taped = [] });
    }

    [Fact]
    public void AddingTheSameMeasurementAgainAddsNothing()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        string id = writer.AddBuild(MadeUp.Facts(1));
        NewMeasurement made = MadeUp.Measurement(MadeUp.Photo(scratch.Folder("p"), 1), 1);
        (string first, bool wasThere) = writer.AddMeasurement(id, made);
        Assert.False(wasThere);
        Assert.Equal((first, true), writer.AddMeasurement(id, made));
        Assert.Single(writer.Reader.Build(id)!.Measurements);
    }

    [Fact]
    public void WhatWasSaidBeforeStaysInTheHistory()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        string id = writer.AddBuild(MadeUp.Facts(1));
        writer.ReviseBuild(id, MadeUp.Facts(1) with { Name = "Renamed", Guides = [] });
        Build build = writer.Reader.Build(writer.Reader.Resolve("Renamed"))!;
        Assert.Equal((2, "Build 1", 8), (build.History.Count, build.History[0].Facts.Name, build.History[0].Facts.Guides.Count));
        Assert.Equal(ArchiveProblem.Refused, Assert.Throws<ArchiveException>(() => writer.Reader.Resolve("Build 1")).Problem);
    }

    /// <summary>A photo of the rod at rest shows no guides: the build stays known by its test, and its sheets and series hold.</summary>
    [Fact]
    public void ARodAtRestDoesNotStandForTheBuild()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        string id = writer.AddBuild(MadeUp.Facts(1));
        writer.AddMeasurement(id, MadeUp.Measurement(MadeUp.Photo(scratch.Folder("p"), 1), 1));
        NewMeasurement rest = MadeUp.Measurement(MadeUp.Photo(scratch["p"], 2), 2);
        writer.AddMeasurement(id, rest with
        {
            Measurement = rest.Measurement with { Side = null, Guides = [], Line = null, Intervals = [], Largest = null, Suggestion = null, Blank = rest.Measurement.Blank! with { TipTurnDeg = 2 } },
            Options = new MeasureOptions { AtRest = true },
            Label = "at rest",
        });
        writer.AddMeasurement(id, MadeUp.Measurement(MadeUp.Photo(scratch["p"], 3), 3));
        writer.AddMeasurement(id, rest with { Measurement = rest.Measurement with { Guides = [], Intervals = [], Largest = null }, Label = "again" });
        Build build = writer.Reader.Build(id)!;
        Assert.Equal("test 3", build.LatestTest!.Label);
        Assert.Equal(build.LatestTest.TipTurnDeg, writer.Reader.List()[0].TipTurnDeg);
        Assert.True(SettingsJson.Read(build.Measurements[1].Settings).AtRest);
        Assert.NotNull(Comparing.HistorySeries.Of(build)[2].Gap);
        Reports.BuildSheet sheet = Reports.BuildSheet.Of(writer.Reader, build, build.Measurements[1]);
        Assert.NotEmpty(Reports.BuildSheetPdf.Write([sheet], Reporting.Sheets.SheetPaper.A4));
        Assert.Contains("at rest", Reports.BuildSheetHtml.Write([sheet]), StringComparison.Ordinal);
    }

    [Fact]
    public void WhatIsSaidLastHoldsEvenIfTheClockStandsStillOrGoesBack()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        DateTimeOffset now = new(2026, 5, 2, 10, 0, 0, TimeSpan.Zero);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"], DiskFiles.Instance, new Clock(() => now), Schema.Migration.Released);
        string id = writer.AddBuild(MadeUp.Facts(1));
        for (int i = 0; i < 40; i++)
        {
            writer.ReviseBuild(id, MadeUp.Facts(1) with { Name = $"name {i}" });
            writer.AddNote(id, NoteKind.Note, $"note {i}");
            writer.ChooseLayout(id, writer.AddLayout(id, $"layout {i}", "made up", [new LayoutStation(0, null, null, null)]));
            Build build = writer.Reader.Build(id)!;
            Assert.Equal(($"name {i}", $"note {i}", $"layout {i}"), (build.Facts.Name, build.Notes[^1].Text, build.ChosenLayout!.Name));
            now -= TimeSpan.FromHours(i % 2);
        }
    }

    private sealed class Clock(Func<DateTimeOffset> now) : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => now();
    }

    [Fact]
    public void ADamagedPhotoIsPutRightByAddingTheOriginalAgain()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 1);
        string photo = Directory.EnumerateFiles(scratch["a/photos"], "*.jpg", SearchOption.AllDirectories).First(f => File.ReadAllBytes(f).SequenceEqual(File.ReadAllBytes(scratch["p/photo 1.jpg"])));
        File.SetAttributes(photo, FileAttributes.Normal);
        File.WriteAllText(photo, "spoilt");
        Assert.Contains("photo", Assert.Single(ArchiveCheck.Run(scratch["a"]).Damages).What, StringComparison.Ordinal);
        using (ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]))
            writer.AddMeasurement(writer.Reader.Resolve("Build 1"), MadeUp.Measurement(scratch["p/photo 1.jpg"], 1));
        Assert.True(ArchiveCheck.Run(scratch["a"]).IsClean);
    }

    [Fact]
    public void OneWritesAtATime()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        long start = Environment.TickCount64;
        Assert.Equal(ArchiveProblem.InUse, Assert.Throws<ArchiveException>(() => Archive.OpenForWriting(scratch["a"])).Problem);
        Assert.InRange(Environment.TickCount64 - start, 500, 5000);
        writer.AddBuild(MadeUp.Facts(1));
        using ArchiveReader reader = Archive.OpenForReading(scratch["a"]);
        Assert.Equal(1, reader.BuildCount);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0xD83D)]
    [InlineData(0xDE00)]
    public void ATextThatCannotBeKeptIsRefused(int character)
    {
        string text = $"half a character or none: {(char)character}";
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        Assert.Throws<InputException>(() => writer.AddBuild(MadeUp.Facts(1) with { Name = text }));
        Assert.Equal(0, writer.Reader.BuildCount);
    }

    [Fact]
    public void AnArchiveIsNotMadeOverOtherThings()
    {
        using Scratch scratch = new();
        File.WriteAllText(scratch["letter.txt"], "mine");
        Assert.Equal(ArchiveProblem.Refused, Assert.Throws<ArchiveException>(() => Archive.Create(scratch.Path)).Problem);
        Assert.Equal(ArchiveProblem.NotThere, Assert.Throws<ArchiveException>(() => Archive.OpenForReading(scratch.Path)).Problem);
        Assert.Single(Directory.EnumerateFileSystemEntries(scratch.Path));
    }

    [Fact]
    public void AFullDatabaseIsSaidAndChangesNothing()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 1);
        string[] before = State.Of(scratch["a"]);
        using (ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]))
        {
            // SQLite's own limit gives the very error that a full disk gives (SQLITE_FULL).
            long pages = (long)writer.Database.Scalar("PRAGMA page_count")!;
            writer.Database.Execute($"PRAGMA max_page_count = {pages + 1}");
            ArchiveException full = Assert.Throws<ArchiveException>(() => writer.AsOne(() =>
            {
                for (int i = 10; i < 200; i++)
                    writer.AddBuild(MadeUp.Facts(i));
                return 0;
            }));
            Assert.Equal(ArchiveProblem.DiskFull, full.Problem);
        }

        Assert.Equal(before, State.Of(scratch["a"]));
        Assert.True(ArchiveCheck.Run(scratch["a"]).IsClean);
    }
}

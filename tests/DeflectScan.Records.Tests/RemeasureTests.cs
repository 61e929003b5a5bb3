using DeflectScan.Measuring;
using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Records.Schema;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes;

namespace DeflectScan.Records.Tests;

/// <summary>A measurement is made again from what is stored: the same program gives the same document, byte for byte.</summary>
public class RemeasureTests
{
    [Fact]
    public void AStoredPhotoGivesTheSameFiguresAgain()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        string id = writer.AddBuild(new BuildFacts { Name = "measured" });
        MeasureOptions options = new() { FirstGuideFromReelMm = 510, GuideCount = 5 };
        using MeasureRun made = MeasurePipeline.Run(Repository.Photo("students-few"), options);
        Assert.Equal(MeasurementStatus.Ok, made.Measurement.Status);
        writer.AddMeasurement(id, NewMeasurement.Of(made.Measurement, Repository.Photo("students-few"), options, null));

        StoredMeasurement stored = writer.Reader.Build(id)!.Measurements[0];
        using MeasureRun again = Remeasuring.Run(writer.Reader, stored);
        Assert.Equal(writer.Reader.Document(stored), MeasurementJson.Write(again.Measurement));
        Assert.Equal(RemeasureVerdict.Same, Remeasuring.Compare(writer.Reader, stored, again.Measurement));

        // A sheet's pictures are drawn from the photo measured again; the straightened one only where the trace lies on the stored one.
        using (MeasureRun copy = again with { Photo = new(again.Photo!.Info, again.Photo.Bgr.Clone()) })
        {
            SheetPictures moved = SheetPictures.Draw(writer.Reader, stored, (_, _) => copy with { Measurement = Shifted(copy.Measurement, 10) });
            Assert.NotNull(moved.Overlay);
            Assert.Null(moved.Unrolled);
            Assert.Contains("left out", moved.Remark, StringComparison.Ordinal);
        }

        SheetPictures pictures = SheetPictures.Draw(writer.Reader, stored, (_, _) => again with { Measurement = Shifted(again.Measurement, 1) });
        Assert.NotNull(pictures.Overlay);
        Assert.NotNull(pictures.Unrolled);
        Assert.Null(pictures.Remark);

        // Other figures are an error only where the very same program made the stored ones.
        Measurement other = made.Measurement with { Blank = made.Measurement.Blank! with { TipTurnDeg = made.Measurement.Blank.TipTurnDeg + 0.1 } };
        Assert.Equal(0, Remeasuring.GapsDifferByMm(made.Measurement, other));
        IntervalReport[] wider = [.. made.Measurement.Intervals.Select(i => i with { Gap = i.Gap with { Mm = i.GapMm + (i.From * 0.25) } })];
        Assert.Equal(0.25 * wider[^1].From, Remeasuring.GapsDifferByMm(made.Measurement, made.Measurement with { Intervals = wider })!.Value, 9);
        Assert.Null(Remeasuring.GapsDifferByMm(made.Measurement, made.Measurement with { Intervals = [.. wider.Skip(1)] }));
        Assert.Equal(RemeasureVerdict.Different, Remeasuring.Compare(writer.Reader, stored, other));
        Assert.Equal(RemeasureVerdict.OtherVersion, Remeasuring.Compare(writer.Reader, stored with { ProgramVersion = "0.0.9" }, other));
        Assert.Equal(RemeasureVerdict.OtherVersion, Remeasuring.Compare(writer.Reader, stored with { ProgramVersion = stored.ProgramVersion.Split('+')[0] + "+0123abcd" }, other));
    }

    private static Measurement Shifted(Measurement m, double px) =>
        m with { Blank = m.Blank! with { Axis = [.. m.Blank.Axis.Select(a => a with { Px = new(a.Px.X + px, a.Px.Y) })] } };

    [Fact]
    public void TheLensProfileAndTheSettingsOfThenAreUsed()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        string id = writer.AddBuild(new BuildFacts { Name = "measured" });
        NewMeasurement made = MadeUp.Measurement(MadeUp.Photo(scratch.Folder("p"), 1), 3);
        writer.AddMeasurement(id, made);
        (string Photo, string Lens, MeasureOptions Options)? seen = null;
        using MeasureRun run = Remeasuring.Run(writer.Reader, writer.Reader.Build(id)!.Measurements[0], (photo, options) =>
        {
            seen = (Convert.ToHexString(File.ReadAllBytes(photo)), File.ReadAllText(options.LensFile!), options);
            return new MeasureRun(made.Measurement, null, null, null);
        });
        Assert.Equal(Convert.ToHexString(File.ReadAllBytes(made.PhotoPath)), seen!.Value.Photo);
        Assert.Equal(made.LensProfile, seen.Value.Lens);
        Assert.Equal(made.Options.GuideCount, seen.Value.Options.GuideCount);
        Assert.False(File.Exists(seen.Value.Options.LensFile));
    }

    /// <summary>The commit is told where the program was built from a repository, as this one was or was not.</summary>
    [Fact]
    public void TheProgramsBuildIsKept()
    {
        Assert.Matches(@"^\d+\.\d+\.\d+(\+[0-9a-f]{8})?$", ProgramBuild.Of(typeof(Measurement).Assembly.GetName().Version!.ToString(3)));
        Assert.Equal("7.7.7", ProgramBuild.Of("7.7.7"));
        Assert.Contains("program_version", Tables.Measurements.ColumnList, StringComparison.Ordinal);
    }
}

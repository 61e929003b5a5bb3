using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Records.Schema;
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

        // A sheet measures its photo again, and shows the straightened blank only where the document comes out the same, byte for byte.
        StoredMeasurement stored = writer.Reader.Build(id)!.Measurements[0];
        BuildSheet sheet = BuildSheet.Of(writer.Reader, writer.Reader.Build(id)!);
        Assert.NotNull(sheet.Pictures!.Overlay);
        Assert.NotNull(sheet.Pictures.Unrolled);
        Assert.Null(sheet.Pictures.Remark);
        Assert.Equal(RemeasureVerdict.Same, Remeasuring.Compare(writer.Reader, stored, made.Measurement));

        // Other figures are an error only where the very same program made the stored ones.
        Measurement other = made.Measurement with { Blank = made.Measurement.Blank! with { TipTurnDeg = made.Measurement.Blank.TipTurnDeg + 0.1 } };
        Assert.Equal(RemeasureVerdict.Different, Remeasuring.Compare(writer.Reader, stored, other));
        Assert.Equal(RemeasureVerdict.OtherVersion, Remeasuring.Compare(writer.Reader, stored with { ProgramVersion = "0.0.9" }, other));
        Assert.Equal(RemeasureVerdict.OtherVersion, Remeasuring.Compare(writer.Reader, stored with { ProgramVersion = stored.ProgramVersion.Split('+')[0] + "+0123abcd" }, other));
    }

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

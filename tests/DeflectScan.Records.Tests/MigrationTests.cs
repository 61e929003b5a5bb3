using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;

namespace DeflectScan.Records.Tests;

/// <summary>Older schemas are brought to the present one with a backup; newer ones are refused.</summary>
public class MigrationTests
{
    /// <summary>A schema after the present one, made up to see that the machinery works.</summary>
    private static readonly IReadOnlyList<Migration> WithNext = [.. Migration.Released, new(Migration.Released[^1].To + 1, "CREATE TABLE made_up (x TEXT) STRICT; INSERT INTO made_up VALUES ('new')")];

    [Fact]
    public void AnOlderArchiveIsMigratedWithABackupBesideIt()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 2);
        string[] before = State.Of(scratch["a"]);
        using (ArchiveReader reader = Archive.OpenForReading(scratch["a"], DiskFiles.Instance, WithNext))
        {
            Assert.Equal(WithNext[^1].To, reader.Database.SchemaVersion);
            Assert.Equal("new", reader.Database.Scalar("SELECT x FROM made_up"));
            Assert.Equal(2, reader.BuildCount);
        }

        string backup = new ArchivePaths(scratch["a"]).Backup(Migration.Released[^1].To);
        Assert.True(File.Exists(backup));
        Directory.CreateDirectory(scratch["old"]);
        File.Copy(backup, scratch["old/records.db"]);
        Scratch.Copy(scratch["a/photos"], scratch["old/photos"]);
        Assert.Equal(before, State.Of(scratch["old"]));
    }

    [Fact]
    public void ANewerArchiveIsRefusedAndLeftAsItIs()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 1);
        Archive.OpenForWriting(scratch["a"], DiskFiles.Instance, TimeProvider.System, WithNext).Dispose();
        byte[] before = File.ReadAllBytes(scratch["a/records.db"]);
        Assert.Equal(ArchiveProblem.Refused, Assert.Throws<ArchiveException>(() => Archive.OpenForReading(scratch["a"])).Problem);
        Assert.Equal(ArchiveProblem.Refused, Assert.Throws<ArchiveException>(() => Archive.OpenForWriting(scratch["a"])).Problem);
        Assert.Equal(before, File.ReadAllBytes(scratch["a/records.db"]));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void AMigrationThatFailsAtAnyStepLeavesOldOrNew(bool after)
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["start"], scratch.Folder("p"), 1, 1);
        for (int step = 0; ; step++)
        {
            string folder = scratch[$"at {step}"];
            Scratch.Copy(scratch["start"], folder);
            FaultyFiles files = new(step, after);
            Record.Exception(() => Archive.OpenForWriting(folder, files, TimeProvider.System, WithNext).Dispose());
            if (!files.HasFailed)
                break;
            using ArchiveWriter again = Archive.OpenForWriting(folder, DiskFiles.Instance, TimeProvider.System, WithNext);
            Assert.Equal((1L, 1), ((long)again.Database.Scalar("SELECT count(*) FROM made_up")!, again.Reader.BuildCount));
        }
    }

    /// <summary>The archives of released schemas stay as they were written.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void TheFixtureOfAnEarlierSchemaOpens(int schema)
    {
        using Scratch scratch = new();
        Scratch.Copy(Path.Combine(AppContext.BaseDirectory, "fixtures", $"schema-{schema}"), scratch["a"]);
        Assert.True(ArchiveCheck.Run(scratch["a"]).IsClean);
        using ArchiveReader reader = Archive.OpenForReading(scratch["a"]);
        Model.Build build = reader.Build(reader.Resolve("Build 1"))!;
        Assert.Equal((2, 1, 1, 8), (build.Measurements.Count, build.Layouts.Count, build.Notes.Count, build.Facts.Guides.Count));
        Assert.Equal("deflectscan.measurement/1", System.Text.Json.JsonDocument.Parse(reader.Document(build.Measurements[0])).RootElement.GetProperty("schema").GetString());

        // What schema 3 keeps beside documents and in lists was made from them; the sample's only running pair of largest bow goes to the tip-top.
        Assert.Equal(Migration.Released[^1].To, reader.Database.SchemaVersion);
        Assert.Empty(build.Proofs);
        Assert.Empty(reader.ProvedSets());
        Assert.All(build.Measurements, m => Assert.Equal(Model.WorstPair.Of(reader.Measurement(m)), m.Worst));
        Assert.Equal(("2 to tip-top", "bow"), (build.Measurements[0].Worst!.Name, build.Measurements[0].Worst!.By));
        Assert.Equal(build.LatestTest!.Worst, reader.List(1, 10).Single().Worst);
        Assert.Null(reader.Database.Scalar("SELECT value FROM archive WHERE key = 'made_again'"));
    }

    /// <summary>A pair that is not the document's is named, and made again from it.</summary>
    [Fact]
    public void AWrongPairThatFollowsWorstIsFoundAndMadeAgain()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 1);
        using (ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]))
            writer.AsOne(() => writer.Database.Execute("UPDATE worst_pairs SET worst_mm = 99"));
        CheckReport report = ArchiveCheck.Run(scratch["a"]);
        Assert.Contains(report.Damages, d => d.Where.Contains("pair that follows worst", StringComparison.Ordinal));
        Assert.True(Repairs.Try(DiskFiles.Instance, new ArchivePaths(scratch["a"]), report));
        Assert.True(ArchiveCheck.Run(scratch["a"]).IsClean);
    }
}

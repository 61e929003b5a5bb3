using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;

namespace DeflectScan.Records.Tests;

/// <summary>Every step that reaches the disk fails once, in turn: the archive is unchanged or complete, never between.</summary>
public class FaultTests
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void AnAddIsWholeOrNotThere(bool after)
    {
        using Scratch scratch = new();
        string start = scratch["start"];
        MadeUp.Fill(start, scratch.Folder("photos"), 1, 1);
        string[] before = State.Of(start);
        HashSet<string> failed = [];
        for (int step = 0; ; step++)
        {
            string folder = scratch[$"at {step}"];
            Scratch.Copy(start, folder);
            FaultyFiles files = new(step, after);
            string? id = null;
            Exception? fault = Record.Exception(() =>
            {
                using ArchiveWriter writer = Archive.OpenForWriting(folder, files, TimeProvider.System, Migration.Released);
                id = MadeUp.AddOne(writer, scratch["photos"], 2);
            });
            if (!files.HasFailed)
            {
                Assert.Null(fault);
                Assert.True(step > 20, $"only {step} steps");
                break;
            }

            failed.Add(files.Failed!);
            Assert.True(fault is null or ArchiveException { Problem: ArchiveProblem.DiskFull }, $"step {step} ({files.Failed}): {fault}");
            Assert.True(fault is not null || id is not null);
            CheckReport report = ArchiveCheck.Run(folder);
            Assert.True(report.IsClean, $"step {step} ({files.Failed}): {string.Join("; ", report.Damages)}");
            string[] state = State.Of(folder);
            bool complete = state.Length > before.Length;
            if (id is not null)
                Assert.True(complete, $"step {step} ({files.Failed}): acknowledged and lost");
            if (complete)
                AssertComplete(folder);
            else
                Assert.Equal(before, state);
            Directory.Delete(folder, recursive: true);
        }

        Assert.Superset(new HashSet<string> { "create", "write", "flush", "rename", "flush folder", "make folder", "delete", "commit" }, failed);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void AMakingIsWholeOrCanBeDoneAgain(bool after)
    {
        for (int step = 0; ; step++)
        {
            using Scratch scratch = new();
            FaultyFiles files = new(step, after);
            Exception? fault = Record.Exception(() => Archive.Create(scratch["a"], files, TimeProvider.System, Migration.Released));
            if (!files.HasFailed)
                break;
            Assert.Equal(ArchiveProblem.DiskFull, Assert.IsType<ArchiveException>(fault).Problem);
            if (!File.Exists(scratch["a/records.db"]))
                Archive.Create(scratch["a"]);
            Assert.True(ArchiveCheck.Run(scratch["a"]).IsClean, $"step {step} ({files.Failed})");
        }
    }

    private static void AssertComplete(string folder)
    {
        using ArchiveReader reader = Archive.OpenForReading(folder);
        Model.Build added = reader.Build(reader.Resolve("Build 2"))!;
        Assert.Equal((2, 1, 1), (added.Measurements.Count, added.Layouts.Count, added.Notes.Count));
        Assert.NotNull(added.ChosenLayout);
        Assert.All(added.Measurements, m => Assert.Equal(m.PhotoSha256, PhotoStore.HashOf(reader.PhotoPath(m))));
    }
}

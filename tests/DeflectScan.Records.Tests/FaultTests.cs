using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;
using DeflectScan.Records.Transfer;

namespace DeflectScan.Records.Tests;

/// <summary>Every step that reaches the disk fails once, in turn: the archive is unchanged or complete, never between.</summary>
public class FaultTests
{
    private static readonly string[] AllSteps = ["create", "write", "flush", "rename", "flush folder", "make folder", "delete", "commit"];

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void AnAddIsWholeOrNotThere(bool after)
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["start"], scratch.Folder("photos"), 1, 1);
        (HashSet<string> failed, int asBefore, int complete) = FaultRun.EachStep(
            scratch, scratch["start"], after, (folder, files) => Writing(folder, files, writer => MadeUp.AddOne(writer, scratch["photos"], 2)));
        Assert.Superset(AllSteps.ToHashSet(), failed);
        Assert.True(asBefore > 10 && complete > 3, $"{asBefore} as before, {complete} complete");
    }

    [Theory]
    [InlineData(false, false)]
    [InlineData(false, true)]
    [InlineData(true, false)]
    [InlineData(true, true)]
    public void AnImportIsWholeOrNotThere(bool intoOthers, bool after)
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["other"], scratch.Folder("photos"), 1, 2);
        if (intoOthers)
        {
            // The same archive as it was before two more builds and a revision: rows of one build are in both.
            Scratch.Copy(scratch["other"], scratch["start"]);
            Writing(scratch["start"], DiskFiles.Instance, writer => MadeUp.AddOne(writer, scratch["photos"], 90));
            Writing(scratch["other"], DiskFiles.Instance, writer =>
            {
                MadeUp.AddOne(writer, scratch["photos"], 7);
                writer.ReviseBuild(writer.Reader.Resolve("Build 2"), MadeUp.Facts(2) with { Remarks = "said later" });
            });
        }
        else
        {
            Archive.Create(scratch["start"]);
        }

        using (ArchiveReader reader = Archive.OpenForReading(scratch["other"]))
            ExportFile.Write(reader, scratch["other.zip"]);
        (HashSet<string> failed, int asBefore, int complete) = FaultRun.EachStep(
            scratch, scratch["start"], after, (folder, files) => Writing(folder, files, writer => ImportFile.Read(writer, scratch["other.zip"])));
        Assert.Superset(AllSteps.ToHashSet(), failed);
        Assert.True(asBefore > 10 && complete > 3, $"{asBefore} as before, {complete} complete");
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void WhatIsSaidOfABuildIsWholeOrNotThere(bool after)
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["start"], scratch.Folder("photos"), 1, 1);
        (HashSet<string> failed, int asBefore, int complete) = FaultRun.EachStep(scratch, scratch["start"], after, (folder, files) => Writing(folder, files, writer => writer.AsOne(() =>
        {
            string id = writer.Reader.Resolve("Build 1");
            writer.AddNote(id, NoteKind.Remark, "said");
            writer.ReviseBuild(id, MadeUp.Facts(1) with { Use = "another" });
            writer.ChooseLayout(id, writer.AddLayout(id, "two", "made up", [new LayoutStation(400, null, 12, null), new LayoutStation(0, null, null, null)]));
            return 0;
        })));
        Assert.Superset(new HashSet<string> { "create", "write", "flush", "rename", "flush folder", "delete", "commit" }, failed);
        Assert.True(asBefore >= 2 && complete > 3, $"{asBefore} as before, {complete} complete");
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void AnExportIsTheOldFileOrTheNewOne(bool after)
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("photos"), 1, 1);
        using ArchiveReader reader = Archive.OpenForReading(scratch["a"]);
        ExportFile.Write(reader, scratch["new.zip"]);
        byte[] made = File.ReadAllBytes(scratch["new.zip"]);
        string folder = scratch.Folder("exports");
        string file = Path.Combine(folder, "a.zip");
        HashSet<string> failed = [];
        for (int step = 0; ; step++)
        {
            File.WriteAllText(file, "the last one");
            FaultyFiles files = new(step, after);
            Exception? fault = Record.Exception(() => ExportFile.Write(reader, file, salvage: false, files));
            bool isNew = File.ReadAllBytes(file).SequenceEqual(made);
            Assert.True(isNew || File.ReadAllText(file) == "the last one", $"step {step} ({files.Failed})");
            Assert.True(isNew || fault is not null, $"step {step} ({files.Failed}): acknowledged and not there");
            Assert.Equal(file, Assert.Single(Directory.EnumerateFileSystemEntries(folder)));
            if (!files.HasFailed)
                break;
            Assert.Equal(ArchiveProblem.DiskFull, Assert.IsType<ArchiveException>(fault).Problem);
            failed.Add(files.Failed!);
        }

        Assert.Equal(["create", "flush", "flush folder", "rename"], failed.Order(StringComparer.Ordinal));
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

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void ARepairCanBeDoneAgainAndTouchesNoFact(bool after)
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["start"], scratch.Folder("photos"), 1, 2);
        string[] before = State.Of(scratch["start"]);
        Writing(scratch["start"], DiskFiles.Instance, writer => writer.AsOne(() => writer.Database.Execute("UPDATE summaries SET name = 'spoilt'")));
        HashSet<string> failed = [];
        for (int step = 0; ; step++)
        {
            string folder = scratch[$"at {step}"];
            Scratch.Copy(scratch["start"], folder);
            FaultyFiles files = new(step, after);
            Record.Exception(() => ArchiveCheck.Run(folder, repair: true, files));
            ArchiveCheck.Run(folder, repair: true);
            Assert.True(ArchiveCheck.Run(folder).IsClean, $"step {step} ({files.Failed})");
            Assert.Equal(before, State.Of(folder));
            if (!files.HasFailed)
                break;
            failed.Add(files.Failed!);
        }

        Assert.Superset(new HashSet<string> { "create", "write", "flush", "rename", "flush folder", "delete", "commit" }, failed);
    }

    /// <summary>A photo that is damaged here is put right by an import, and stays right when the import's rows are not taken after all.</summary>
    [Fact]
    public void APhotoThatAnImportPutRightStaysRight()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("photos"), 1, 1);
        using (ArchiveReader reader = Archive.OpenForReading(scratch["a"]))
            ExportFile.Write(reader, scratch["a.zip"]);
        string photo = Directory.EnumerateFiles(scratch["a/photos"], "*.jpg", SearchOption.AllDirectories).First();
        File.SetAttributes(photo, FileAttributes.Normal);
        File.WriteAllText(photo, "spoilt");
        for (int step = 0; ; step++)
        {
            string folder = scratch[$"at {step}"];
            Scratch.Copy(scratch["a"], folder);
            FaultyFiles files = new(step, after: false);
            Exception? fault = Record.Exception(() => Writing(folder, files, writer => ImportFile.Read(writer, scratch["a.zip"])));
            CheckReport report = ArchiveCheck.Run(folder);
            Assert.True(report.IsClean || (fault is not null && report.Damages is [{ What: "the photo is not what was stored" }]), $"step {step} ({files.Failed}): {string.Join("; ", report.Damages)}");
            if (files.HasFailed)
                continue;
            Assert.True(report.IsClean);
            break;
        }
    }

    private static void Writing(string folder, IDurableFiles files, Action<ArchiveWriter> work)
    {
        using ArchiveWriter writer = Archive.OpenForWriting(folder, files, TimeProvider.System, Migration.Released);
        work(writer);
    }
}

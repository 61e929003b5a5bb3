using System.Diagnostics;
using DeflectScan.Cli.Running;
using DeflectScan.Records;
using static DeflectScan.Cli.Tests.RecordsRun;

namespace DeflectScan.Cli.Tests;

/// <summary>
/// The program as a process of its own on an archive that cannot be written to: a disk that takes no more, a folder without rights, another
/// process that writes. One sentence within 5 s, and nothing is lost.
/// </summary>
public sealed class RecordsProcessTests : IDisposable
{
    private static readonly string Program = Path.Combine(AppContext.BaseDirectory, "deflectscan");
    private readonly TempFolder _folder = new();

    [Fact]
    public void ADiskThatTakesNoMoreIsSaidAndNothingIsLost()
    {
        // The kernel's limit on a file's size (setrlimit(2), RLIMIT_FSIZE) fails real writes half-way for every user, root or not. The runtime itself
        // wants a large file in memory where it guards its code pages: that guard is off here. Blocks of 512 bytes, as POSIX says of ulimit -f.
        Export(Others(), "other.zip");
        byte[] before = Export(_folder["archive"], "before.zip");
        List<string> said = [];
        for (int blocks = 8; ; blocks *= 2)
        {
            string import = $"trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" \"$@\"";
            (int code, string output, string error, TimeSpan took) = Start("sh", ["-c", import, Program, "records", "import", _folder["other.zip"], "--archive", _folder["archive"]]);
            Assert.Equal(0, Run(_folder, "verify").Code);
            if (code == 0)
                break;
            WithinFiveSeconds(took);
            Assert.Equal(1, OneLine((code, output, error)));
            said.Add(error);
            Assert.Equal(before, Export(_folder["archive"], "after.zip"));
        }

        Assert.True(said.Count >= 4, $"{said.Count} limits were reached");
        Assert.All(said, s => Assert.StartsWith("The disk takes no more", s, StringComparison.Ordinal));
        Assert.Contains("6 builds", Run(_folder, "list").Out, StringComparison.Ordinal);
    }

    /// <summary>The same with a file system that is really full: one in memory, in a mount namespace of its own (unshare(1)), where the kernel lets us have one.</summary>
    [Fact]
    public void AFullFileSystemIsSaidAndNothingIsLost()
    {
        Export(Others(), "other.zip");
        byte[] before = Export(_folder["archive"], "before.zip");
        string space = Environment.IsPrivilegedProcess ? "-m" : "-Urm";
        string disk = Directory.CreateDirectory(_folder["disk"]).FullName;
        if (Start("unshare", [space, "mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", disk]) is (not 0, _, string refusal, _))
        {
            // What this test says is then said by the one above alone; the refusal must be the kernel's own.
            Assert.True(IsKernelsRefusal(refusal), refusal);
            return;
        }

        const string Fill = """
            mount -t tmpfs -o size=1m tmpfs "$1" && cp -r "$2" "$1/archive" && dd if=/dev/zero of="$1/filler" bs=1024 2>/dev/null
            truncate -s -"$6"K "$1/filler"
            "$0" records import "$3" --archive "$1/archive"; code=$?
            "$0" records verify --archive "$1/archive" >&2 || exit 99
            cp -r "$1/archive" "$4"; exit $code
            """;
        foreach (int free in new[] { 0, 40, 100, 200 })
        {
            string after = _folder[$"after {free}"];
            (int code, string output, string error, _) = Start("unshare", [space, "sh", "-c", Fill, Program, disk, _folder["archive"], _folder["other.zip"], after, "", free.ToString()]);
            Assert.True(code == 1, $"{free} kB free: exit {code}: {output} {error}");
            Assert.Contains("The disk takes no more", error, StringComparison.Ordinal);
            Assert.Equal(before, Export(after, "after.zip"));
        }
    }

    /// <summary>The last is what unshare(1) says where the root folder is no mount of its own, as in a chroot(2).</summary>
    [Theory]
    [InlineData("unshare: unshare failed: Operation not permitted", true)]
    [InlineData("mount: /tmp/disk: permission denied.", true)]
    [InlineData("unshare: cannot change root filesystem propagation: Invalid argument", true)]
    [InlineData("unshare: failed to execute mount: No such file or directory", false)]
    public void ARefusalOfTheKernelIsToldFromAFault(string said, bool isRefusal) => Assert.Equal(isRefusal, IsKernelsRefusal(said));

    private static bool IsKernelsRefusal(string said) =>
        said.Contains("not permitted", StringComparison.Ordinal) || said.Contains("denied", StringComparison.Ordinal)
        || said.Contains("cannot change root filesystem propagation", StringComparison.Ordinal);

    [Fact]
    public void AFolderThatMayNotBeWrittenToIsReadAndNotWritten()
    {
        Fill(_folder, 2);
        byte[] before = Export(_folder["archive"], "before.zip");
        string[] places = [_folder["archive"], .. Directory.EnumerateFileSystemEntries(_folder["archive"], "*", SearchOption.AllDirectories)];
        Array.ForEach(places, p => Rights(p, UnixFileMode.UserRead | UnixFileMode.UserExecute));
        try
        {
            // Root may write anywhere; without the right to do so (CAP_DAC_OVERRIDE, capabilities(7)) it is as any other user.
            Assert.NotEqual(0, AsAnyUser("touch", [_folder["archive/x"]]).Code);
            string archive = _folder["archive"];
            (int code, string output, string error, TimeSpan took) = AsAnyUser(Program, ["records", "note", "Build 1", "text", "--archive", archive]);
            Assert.Equal(2, OneLine((code, output, error)));
            WithinFiveSeconds(took);
            Assert.Equal(2, OneLine(Short(AsAnyUser(Program, ["records", "init", "--archive", Path.Combine(archive, "photos/new")]))));
            foreach (string[] command in new[] { ["list"], ["show", "Build 1"], ["find", "perch"], ["verify"], new[] { "export", _folder["read.zip"] } })
            {
                (code, _, error, _) = AsAnyUser(Program, ["records", .. command, "--archive", archive]);
                Assert.True(code == 0, $"{command[0]}: {error}");
            }

            Assert.Equal(before, File.ReadAllBytes(_folder["read.zip"]));
        }
        finally
        {
            Array.ForEach(places, p => Rights(p, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute));
        }

        Assert.Equal(0, Run(_folder, "verify").Code);
        Assert.Equal(before, Export(_folder["archive"], "after.zip"));
    }

    /// <summary>What was acknowledged and waits in the log of an archive that was not closed is never left out in silence.</summary>
    [Fact]
    public void AnArchiveThatWasNotClosedIsNotReadWithoutItsLog()
    {
        Fill(_folder, 1);
        string open = Directory.CreateDirectory(_folder["open"]).FullName;
        using (ArchiveWriter writer = Archive.OpenForWriting(_folder["archive"]))
        {
            writer.AddNote(writer.Reader.Resolve("Build 1"), Records.Model.NoteKind.Note, "waits in the log");
            foreach (string name in new[] { "records.db", "records.db-wal" })
                File.Copy(_folder["archive/" + name], Path.Combine(open, name));
        }

        Directory.Move(_folder["archive/photos"], Path.Combine(open, "photos"));
        string[] places = [open, .. Directory.EnumerateFileSystemEntries(open, "*", SearchOption.AllDirectories)];
        Array.ForEach(places, p => Rights(p, UnixFileMode.UserRead | UnixFileMode.UserExecute));
        try
        {
            Assert.Equal(2, OneLine(Short(AsAnyUser(Program, ["records", "show", "Build 1", "--archive", open]))));
            Assert.Equal(12, AsAnyUser(Program, ["records", "verify", "--archive", open]).Code);
        }
        finally
        {
            Array.ForEach(places, p => Rights(p, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute));
        }

        Assert.Contains("waits in the log", Start(Program, ["records", "show", "Build 1", "--archive", open]).Out, StringComparison.Ordinal);
        Assert.Equal(0, Start(Program, ["records", "verify", "--archive", open]).Code);
    }

    [Fact]
    public void TheSecondOfTwoWritersGivesUpWithinFiveSeconds()
    {
        Fill(_folder, 1);
        using (Archive.OpenForWriting(_folder["archive"]))
        {
            (int code, string output, string error, TimeSpan took) = Start(Program, ["records", "note", "Build 1", "text", "--archive", _folder["archive"]]);
            Assert.Equal(11, OneLine((code, output, error)));
            Assert.True(took > TimeSpan.FromSeconds(1), "it did not wait for the other one");
            WithinFiveSeconds(took);
            Assert.Equal(0, Start(Program, ["records", "show", "Build 1", "--archive", _folder["archive"]]).Code);
        }

        Assert.Equal(0, Start(Program, ["records", "note", "Build 1", "text", "--archive", _folder["archive"]]).Code);
    }

    [Fact]
    public void WritersAtTheSameTimeLoseNothing()
    {
        Fill(_folder, 1);
        int[] codes = [.. Enumerable.Range(0, 4).AsParallel().AsOrdered().WithDegreeOfParallelism(4).Select(i =>
            Start(Program, ["records", "note", "Build 1", $"said by {i}", "--archive", _folder["archive"]]).Code)];
        Assert.All(codes, c => Assert.True(c is 0 or 11));
        string shown = Run(_folder, "show", "Build 1").Out;
        for (int i = 0; i < codes.Length; i++)
            Assert.Equal(codes[i] == 0, shown.Contains($"said by {i}", StringComparison.Ordinal));
        Assert.Equal(0, Run(_folder, "verify").Code);
    }

    public void Dispose() => _folder.Dispose();

    /// <summary>The archive with one build, and the folder of another one with five.</summary>
    private string Others()
    {
        using TempFolder other = new();
        Fill(_folder, 1);
        Fill(other, 1);
        for (int i = 2; i <= 5; i++)
        {
            Assert.Equal(0, Run(other, "add", Photo(other, $"{i}.jpg", 10 + i), "--name", $"Other {i}", "--remarks", string.Concat(Enumerable.Range(0, 4000).Select(n => (i * n).ToString()))).Code);
        }

        Directory.Move(other["archive"], _folder["others"]);
        return _folder["others"];
    }

    /// <summary>An archive's export: equal facts and photos are equal bytes.</summary>
    private byte[] Export(string archive, string name)
    {
        FakeRun run = new();
        Assert.True(run.Run("records", "export", _folder[name], "--archive", archive) == 0, run.Error);
        return File.ReadAllBytes(_folder[name]);
    }

    /// <summary>Within ten times what starting the program takes at that moment, and never asked for in less than 5 s: a quiet machine starts it within half a second.</summary>
    private static void WithinFiveSeconds(TimeSpan took)
    {
        TimeSpan start = Start(Program, ["--version"]).Took;
        Assert.InRange(took, TimeSpan.Zero, TimeSpan.FromSeconds(Math.Max(5, 10 * start.TotalSeconds)));
    }

    private static void Rights(string path, UnixFileMode mode)
    {
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(path, Directory.Exists(path) ? mode : mode & ~UnixFileMode.UserExecute);
    }

    private static (int Code, string Out, string Error, TimeSpan Took) AsAnyUser(string program, string[] args)
    {
        const string Overrides = "-dac_override,-dac_read_search";
        return Environment.IsPrivilegedProcess ? Start("setpriv", ["--bounding-set", Overrides, "--inh-caps", Overrides, program, .. args]) : Start(program, args);
    }

    private static (int Code, string Out, string Error) Short((int Code, string Out, string Error, TimeSpan Took) run) => (run.Code, run.Out, run.Error);

    private static (int Code, string Out, string Error, TimeSpan Took) Start(string program, IEnumerable<string> args)
    {
        ProcessStartInfo start = new(program, args) { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["DOTNET_EnableWriteXorExecute"] = "0";
        long since = Stopwatch.GetTimestamp();
        using Process process = Process.Start(start)!;
        Task<string> error = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        Assert.True(process.WaitForExit(60_000));
        return (process.ExitCode, output, error.Result, Stopwatch.GetElapsedTime(since));
    }
}

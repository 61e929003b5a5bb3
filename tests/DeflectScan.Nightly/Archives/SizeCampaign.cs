using System.CommandLine;
using System.Diagnostics;
using DeflectScan.Records;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Finding;
using DeflectScan.Records.Transfer;

namespace DeflectScan.Nightly.Archives;

/// <summary>How long a large archive takes to be verified, exported and imported, and to be asked; and how much memory.</summary>
internal static class SizeCampaign
{
    public static Command Command()
    {
        Option<double> gigabytes = new("--gigabytes") { Description = "Bytes of photos, in units of 10^9.", DefaultValueFactory = _ => 1 };
        Option<int> builds = new("--builds") { Description = "Builds with three measurements each in the archive that is asked.", DefaultValueFactory = _ => 10_000 };
        Option<string?> place = new("--place") { Description = "Folder on the disk that is to be measured. [default: the system's for temporary files]" };
        Option<string?> keep = new("--keep") { Description = "Only make the archive with many builds, here, and leave it." };
        Command command = new("archive-size", "Times verify, export and import of an archive with large photos, and questions to one with many builds.") { gigabytes, builds, place, keep };
        command.SetAction(parsed =>
        {
            if (parsed.GetValue(keep) is { } kept)
            {
                Archive.Create(kept);
                LargeArchive.Fill(kept, Path.GetTempPath(), parsed.GetValue(builds), 3);
                return 0;
            }

            string folder = Path.Combine(parsed.GetValue(place) ?? Path.GetTempPath(), $"deflectscan-size-{Environment.ProcessId}");
            Directory.CreateDirectory(folder);
            try
            {
                Large(folder, (int)(parsed.GetValue(gigabytes) * 250));
                Many(folder, parsed.GetValue(builds));
            }
            finally
            {
                foreach (string file in Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories))
                    File.SetAttributes(file, FileAttributes.Normal);
                Directory.Delete(folder, recursive: true);
            }

            return 0;
        });
        return command;
    }

    /// <summary>Builds with one photo of 4 MB each.</summary>
    private static void Large(string folder, int builds)
    {
        const int PhotoBytes = 4_000_000;
        (string a, string b, string zip) = (Path.Combine(folder, "a"), Path.Combine(folder, "b"), Path.Combine(folder, "a.zip"));
        Archive.Create(a);
        Archive.Create(b);
        Time($"adding {builds} photos of {PhotoBytes / 1e6:0} MB", () =>
        {
            using ArchiveWriter writer = Archive.OpenForWriting(a);
            for (int i = 0; i < builds; i++)
            {
                string photo = MadeUp.Photo(folder, i, PhotoBytes);
                writer.AddMeasurement(writer.AddBuild(MadeUp.Facts(i)), MadeUp.Measurement(photo, i));
                File.Delete(photo);
            }
        });
        Time("verify", () => Sound(ArchiveCheck.Run(a).IsClean));
        Time("export", () =>
        {
            using ArchiveReader reader = Archive.OpenForReading(a);
            ExportFile.Write(reader, zip);
        });
        Console.WriteLine($"the export holds {new FileInfo(zip).Length / 1e9:0.000} GB");
        Time("import", () =>
        {
            using ArchiveWriter writer = Archive.OpenForWriting(b);
            ImportFile.Read(writer, zip);
        });
        Time("verify of what was imported", () => Sound(ArchiveCheck.Run(b).IsClean));
    }

    private static void Many(string folder, int builds)
    {
        string many = Path.Combine(folder, "many");
        Archive.Create(many);
        string id = "";
        Time($"making {builds} builds with 3 measurements each", () => id = LargeArchive.Fill(many, folder, builds, 3));
        Time("opening it to read", () => Archive.OpenForReading(many).Dispose());
        using ArchiveReader reader = Archive.OpenForReading(many);
        (string Name, Action Ask)[] questions =
        [
            ("find by words", () => reader.Find(new FindQuery { Text = "finesse braid" })),
            ("find by likeness in six ways", () => reader.Find(new FindQuery { BlankLengthMm = 2134, TipTurnDeg = 85, ReelClass = 2500, Line = "braid", Side = "inside", Use = "bass" })),
            ("find by words and likeness", () => reader.Find(new FindQuery { Text = "pike", BlankLengthMm = 2134 })),
            ("open one", () => reader.Build(id)),
            ("find one by how its name begins", () => reader.Resolve("build 9999")),
            ("list the last page", () => reader.List(builds / 25)),
        ];
        foreach ((string name, Action ask) in questions)
        {
            double first = Ms(ask);
            double[] times = [.. Enumerable.Range(0, 20).Select(_ => Ms(ask)).Order()];
            Console.WriteLine($"{name}: {first:0.0} ms at first, then median {times[10]:0.0}, at most {times[^1]:0.0} ms");
        }

        long before = GC.GetTotalMemory(forceFullCollection: true);
        for (int i = 0; i < 50; i++)
            questions[1].Ask();
        Console.WriteLine($"50 more questions leave {(GC.GetTotalMemory(forceFullCollection: true) - before) / 1e6:0.0} MB more in memory");
        Time("verify", () => Sound(ArchiveCheck.Run(many).IsClean));
    }

    private static void Time(string what, Action work)
    {
        long start = Stopwatch.GetTimestamp();
        work();
        using Process self = Process.GetCurrentProcess();
        Console.WriteLine($"{what}: {Stopwatch.GetElapsedTime(start).TotalSeconds:0.0} s; peak memory {self.PeakWorkingSet64 / 1e6:0} MB");
    }

    private static double Ms(Action work)
    {
        long start = Stopwatch.GetTimestamp();
        work();
        return Stopwatch.GetElapsedTime(start).TotalMilliseconds;
    }

    private static void Sound(bool clean)
    {
        if (!clean)
            throw new InvalidOperationException("The archive is not clean.");
    }
}

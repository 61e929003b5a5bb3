using System.Diagnostics;
using DeflectScan.Records;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Transfer;

namespace DeflectScan.Nightly.Archives;

/// <summary>
/// A process that adds and imports is killed at a random moment (SIGKILL), again and again: the archive must open, verify must find nothing,
/// and all that was acknowledged must be there.
/// </summary>
internal static class KillCampaign
{
    private const int KillsOfAnArchive = 20;

    /// <summary>Every other kill waits for the first acknowledgement: the moments fall into all parts of the work, however busy the machine is.</summary>
    /// <returns>Faults, one line each, and how many acknowledgements were checked.</returns>
    public static (List<string> Faults, int Acknowledged) Run(int seed, int count, Action<int>? progress = null)
    {
        Random random = new(seed);
        List<string> faults = [];
        int acknowledged = 0;
        for (int done = 0; done < count;)
        {
            using Scratch scratch = new();
            string photos = scratch.Folder("photos");
            string[][] exported = Exports(scratch, photos);
            string folder = scratch["archive"];
            Archive.Create(folder);
            List<string> said = [];
            for (int k = 0; k < KillsOfAnArchive && done < count; k++, done++)
            {
                List<string> lines = KillOne(folder, photos, seed + done, afterFirst: done % 2 == 1, random.Next(0, done % 2 == 1 ? 100 : 700));
                said.AddRange(lines);
                string[] found = [.. Check(folder, said, exported)];
                faults.AddRange(found.Select(f => $"kill {done}: {f}"));
                progress?.Invoke(done + 1);
            }

            acknowledged += said.Count;
        }

        return (faults, acknowledged);
    }

    private static string[][] Exports(Scratch scratch, string photos)
    {
        string[][] ids = new string[3][];
        for (int i = 0; i < ids.Length; i++)
        {
            string other = scratch[$"other {i}"];
            MadeUp.Fill(other, photos, 1_000_000 + (10 * i), 2 + i);
            using ArchiveReader reader = Archive.OpenForReading(other);
            ids[i] = [.. reader.List().Select(b => b.Id)];
            ExportFile.Write(reader, Worker.ExportPath(photos, i));
        }

        return ids;
    }

    private static List<string> KillOne(string folder, string photos, int seed, bool afterFirst, int afterMs)
    {
        ProcessStartInfo start = new("dotnet", [typeof(Worker).Assembly.Location, "archive-worker", folder, photos, "--seed", seed.ToString()])
        {
            UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true,
        };
        using Process worker = Process.Start(start)!;
        Task<string> errors = worker.StandardError.ReadToEndAsync();
        string? ready = worker.StandardOutput.ReadLine();
        string first = afterFirst ? worker.StandardOutput.ReadLine() + "\n" : "";
        Task<string> output = worker.StandardOutput.ReadToEndAsync();
        Thread.Sleep(afterMs);
        worker.Kill();
        worker.WaitForExit();
        if (ready != "ready" || errors.Result.Length > 0)
            throw new InvalidOperationException($"The worker failed by itself: {errors.Result}");

        // A line that was cut off is none: what stands before it is whole.
        string whole = first + output.Result;
        return [.. whole[..(whole.LastIndexOf('\n') + 1)].Split('\n', StringSplitOptions.RemoveEmptyEntries)];
    }

    private static IEnumerable<string> Check(string folder, List<string> said, string[][] exported)
    {
        CheckReport report;
        string? broken = null;
        try
        {
            report = ArchiveCheck.Run(folder);
        }
        catch (ArchiveException e)
        {
            report = new CheckReport([], [], 0, 0, 0, 0);
            broken = e.Message;
        }

        if (broken is not null)
        {
            yield return broken;
            yield break;
        }

        foreach (Damage damage in report.Damages)
            yield return $"{damage.Where}: {damage.What}";
        using ArchiveReader reader = Archive.OpenForReading(folder);
        foreach (string line in said.Distinct())
        {
            string[] words = line.Split(' ');
            bool there = words[0] switch
            {
                "build" => reader.Build(words[1]) is { Measurements.Count: 2, Notes.Count: > 0, ChosenLayout: not null },
                "note" => reader.Build(words[1])?.Notes.Any(n => n.Id == words[2]) == true,
                _ => exported[int.Parse(words[1])].All(id => reader.Build(id) is { Measurements.Count: 2 }),
            };
            if (!there)
                yield return $"acknowledged and lost: {line}";
        }
    }
}

using System.Diagnostics;
using DeflectScan.Records;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Model;
using DeflectScan.Records.Transfer;

namespace DeflectScan.Nightly.Archives;

/// <summary>What the kills showed.</summary>
/// <param name="Faults">One line each.</param>
/// <param name="Acknowledged">Acknowledgements that were looked for after every later kill.</param>
/// <param name="WhileDoing">How many kills fell into what: "build", "note", "import", "import, of what was not there yet", "closing".</param>
internal sealed record KillResult(IReadOnlyList<string> Faults, int Acknowledged, IReadOnlyDictionary<string, int> WhileDoing);

/// <summary>
/// A process that adds and imports is killed at a random moment (SIGKILL), again and again: the archive must open, verify must find nothing,
/// and all that was acknowledged must be there.
/// </summary>
internal static class KillCampaign
{
    private const int KillsOfAnArchive = 10;

    /// <summary>Longest wait before a kill, ms: some steps of work on an idle machine. Every other kill first waits for an acknowledgement, however busy the machine is.</summary>
    private const int LongestWaitMs = 120;

    public static KillResult Run(int seed, int count, Action<int>? progress = null)
    {
        Random random = new(seed);
        List<string> faults = [];
        Dictionary<string, int> doing = [];
        int acknowledged = 0;
        using Scratch shared = new();
        string photos = shared.Folder("photos");
        string[][] exported = Exports(shared, photos);
        Process next = Start(photos, seed);
        for (int done = 0; done < count;)
        {
            using Scratch scratch = new();
            string folder = scratch["archive"];
            Archive.Create(folder);
            List<string> said = [];
            for (int k = 0; k < KillsOfAnArchive && done < count; k++, done++)
            {
                // The next process starts and compiles while this one's archive is read.
                using Process worker = next;
                List<string> lines = Kill(worker, folder, afterFirst: done % 2 == 1, random.Next(LongestWaitMs));
                next = Start(photos, seed + done + 1);
                string moment = Moment(lines, said);
                doing[moment] = doing.GetValueOrDefault(moment) + 1;
                said.AddRange(lines.Where(l => !l.StartsWith("begin", StringComparison.Ordinal)));
                faults.AddRange(Check(folder, said, exported).Select(f => $"kill {done} ({moment}): {f}"));
                progress?.Invoke(done + 1);
            }

            acknowledged += said.Count;
        }

        next.StandardInput.Close();
        next.WaitForExit();
        next.Dispose();
        return new KillResult(faults, acknowledged, doing);
    }

    private static string[][] Exports(Scratch scratch, string photos)
    {
        string[][] ids = new string[Worker.Exports][];
        for (int i = 0; i < ids.Length; i++)
        {
            string other = scratch[$"other {i}"];
            MadeUp.Fill(other, photos, 1_000_000 + (100 * i), 1 << i);
            using ArchiveReader reader = Archive.OpenForReading(other);
            ids[i] = [.. reader.List(size: 500).Select(b => b.Id)];
            ExportFile.Write(reader, Worker.ExportPath(photos, i));
        }

        return ids;
    }

    private static Process Start(string photos, int seed) => Process.Start(
        new ProcessStartInfo("dotnet", [typeof(Worker).Assembly.Location, "archive-worker", photos, "--seed", seed.ToString()])
        {
            UseShellExecute = false, RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true,
        })!;

    private static List<string> Kill(Process worker, string folder, bool afterFirst, int afterMs)
    {
        Task<string> errors = worker.StandardError.ReadToEndAsync();
        string? ready = worker.StandardOutput.ReadLine();
        worker.StandardInput.WriteLine(folder);
        worker.StandardInput.Flush();
        string first = afterFirst ? worker.StandardOutput.ReadLine() + "\n" + worker.StandardOutput.ReadLine() + "\n" : "";
        Task<string> output = worker.StandardOutput.ReadToEndAsync();
        Thread.Sleep(afterMs);
        worker.Kill();
        worker.WaitForExit();
        if (ready != Worker.Ready || errors.Result.Length > 0)
            throw new InvalidOperationException($"The worker failed by itself: {errors.Result}");

        // A line that was cut off is none: what stands before it is whole.
        string whole = first + output.Result;
        return [.. whole[..(whole.LastIndexOf('\n') + 1)].Split('\n', StringSplitOptions.RemoveEmptyEntries)];
    }

    /// <summary>What the process was doing when it was killed.</summary>
    private static string Moment(List<string> lines, List<string> saidBefore)
    {
        if (lines is not [.., { } last])
            return "starting";
        string[] words = last.Split(' ');
        if (words[0] != "begin")
            return "closing";
        bool isNew = words[1] == "import" && !saidBefore.Concat(lines).Contains($"import {words[2]}");
        return isNew ? "import, of what was not there yet" : words[1];
    }

    private static IEnumerable<string> Check(string folder, List<string> said, string[][] exported)
    {
        CheckReport? report = null;
        string broken = "";
        try
        {
            report = ArchiveCheck.Run(folder);
        }
        catch (ArchiveException e)
        {
            broken = e.Message;
        }

        if (report is null)
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

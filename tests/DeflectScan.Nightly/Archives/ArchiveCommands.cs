using System.CommandLine;
using System.Diagnostics;

namespace DeflectScan.Nightly.Archives;

/// <summary>The long runs over archives.</summary>
internal static class ArchiveCommands
{
    public static IEnumerable<Command> All()
    {
        Option<int> seed = new("--seed") { Description = "Series of the random choices.", DefaultValueFactory = _ => 1 };
        yield return Campaign("archive-kill", "Kills a process that adds and imports, at random moments.", 1000, seed, (s, count, progress) =>
        {
            KillResult killed = KillCampaign.Run(s, count, progress);
            string moments = string.Join(", ", killed.WhileDoing.OrderByDescending(d => d.Value).Select(d => $"{d.Value} while {d.Key}"));
            return (killed.Faults, $"{count} kills ({moments}), {killed.Acknowledged} acknowledgements checked");
        });
        yield return Campaign("archive-flips", "Changes or removes single bytes of an archive; verify must name each.", 10_000, seed, (s, count, progress) =>
            (FlipCampaign.Run(s, count, progress: progress), $"{count} bytes changed or removed"));
        yield return Campaign("archive-log", "Cuts and reorders the write-ahead log.", 500, seed, (s, count, progress) =>
        {
            (List<string> faults, int recovered, int refused) = LogCampaign.Run(s, count, progress);
            return (faults, $"{count} logs mangled, {recovered} came back in a committed state, {refused} refused");
        });
        yield return SizeCampaign.Command();
        Argument<string> fixture = new("DIR");
        Command make = new("archive-fixture", "Makes the archive that the tests keep of the present schema.") { fixture };
        make.SetAction(parsed =>
        {
            using Scratch scratch = new();
            MadeUp.Fill(parsed.GetValue(fixture)!, scratch.Path, 1, 1);
            return 0;
        });
        yield return make;
        Argument<string> photos = new("PHOTOS");
        Command worker = new("archive-worker", "The process that archive-kill kills.") { photos, seed };
        worker.SetAction(parsed => Worker.Run(parsed.GetValue(photos)!, parsed.GetValue(seed)));
        yield return worker;
    }

    private static Command Campaign(string name, string description, int usual, Option<int> seed, Func<int, int, Action<int>, (IReadOnlyList<string> Faults, string Says)> run)
    {
        Option<int> count = new("--count") { Description = "How many.", DefaultValueFactory = _ => usual };
        Command command = new(name, description) { count, seed };
        command.SetAction(parsed =>
        {
            long start = Stopwatch.GetTimestamp();
            (IReadOnlyList<string> faults, string says) = run(parsed.GetValue(seed), parsed.GetValue(count), done =>
            {
                if (done % 100 == 0)
                    Console.Error.WriteLine($"{done} done");
            });
            foreach (string fault in faults)
                Console.WriteLine(fault);
            Console.WriteLine($"{says}, {faults.Count} faults, {Stopwatch.GetElapsedTime(start).TotalSeconds:0} s");
            return faults.Count == 0 ? 0 : 1;
        });
        return command;
    }
}

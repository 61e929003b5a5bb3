using System.CommandLine;
using System.Diagnostics;
using DeflectScan.Nightly.Archives;
using DeflectScan.Nightly.Pages;
using DeflectScan.Scenes.Attacks;

// What takes too long for every run of the tests. Exit code 0: no fault; 1: faults, each on a line of its own.
Option<int> count = new("--count") { Description = "How many mutants.", DefaultValueFactory = _ => 100_000 };
Option<int> seed = new("--seed") { Description = "Series of the mutator; the same seed makes the same files.", DefaultValueFactory = _ => 1 };
Option<int> first = new("--first") { Description = "Number of the first mutant, to go on or to look at one again.", DefaultValueFactory = _ => 0 };
Command attack = new("attack", "Opens malformed JPEG, PNG and WebP files: each must open or be refused in one sentence within 2 s.") { count, seed, first };
attack.SetAction(parsed =>
{
    const int Batch = 5000;
    (int opened, int refused, int faults, TimeSpan slowest) = (0, 0, 0, TimeSpan.Zero);
    int end = parsed.GetValue(first) + parsed.GetValue(count);
    for (int from = parsed.GetValue(first); from < end; from += Batch)
    {
        AttackResult result = AttackRun.Run(parsed.GetValue(seed), from, Math.Min(Batch, end - from));
        opened += result.Opened;
        refused += result.Refused;
        faults += result.Faults.Count;
        slowest = result.Slowest > slowest ? result.Slowest : slowest;
        foreach (string fault in result.Faults)
            Console.WriteLine(fault);
        Console.Error.WriteLine($"up to {from + Batch}: {opened} opened, {refused} refused, {faults} faults, slowest {slowest.TotalMilliseconds:F0} ms");
    }

    using Process self = Process.GetCurrentProcess();
    Console.WriteLine($"{opened + refused} mutants: {opened} opened, {refused} refused, {faults} faults, slowest {slowest.TotalMilliseconds:F0} ms, "
        + $"peak memory {self.PeakWorkingSet64 / 1e6:F0} MB");
    return faults == 0 ? 0 : 1;
});
RootCommand root = new("Long runs that are not part of the tests.") { attack };
foreach (Command command in ArchiveCommands.All().Concat(PageCommands.All()))
    root.Add(command);
return root.Parse(args).Invoke();

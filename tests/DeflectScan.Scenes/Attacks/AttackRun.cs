using System.Diagnostics;
using DeflectScan.Findings;
using DeflectScan.Photos;

namespace DeflectScan.Scenes.Attacks;

/// <summary>What a run of mutants came to.</summary>
/// <param name="Opened">Mutants that are still whole pictures.</param>
/// <param name="Refused">Mutants refused in one sentence.</param>
/// <param name="Faults">What went wrong, one line a mutant: an exception, no sentence, or too slow.</param>
/// <param name="Slowest">The longest time that one mutant took.</param>
public sealed record AttackResult(int Opened, int Refused, IReadOnlyList<string> Faults, TimeSpan Slowest);

/// <summary>Opens mutants one by one: each either opens or is refused with one sentence, soon.</summary>
public static class AttackRun
{
    public static readonly TimeSpan LongestAllowed = TimeSpan.FromSeconds(2);

    /// <param name="seed">Series of the mutator.</param>
    /// <param name="first">Number of the first mutant.</param>
    /// <param name="count">How many.</param>
    public static AttackResult Run(int seed, int first, int count)
    {
        Mutator mutator = new(SmallPictures.All);
        (int opened, int refused, TimeSpan slowest) = (0, 0, TimeSpan.Zero);
        List<string> faults = [];
        for (int number = first; number < first + count; number++)
        {
            (string name, byte[] bytes) = mutator.Make(seed, number);
            long start = Stopwatch.GetTimestamp();
            try
            {
                Outcome<UprightPhoto> outcome = PhotoOpener.Open(bytes, "mutant", PhotoLimits.Default);
                if (outcome.IsRefused)
                    refused++;
                else
                    opened++;
                outcome.Value?.Dispose();
                if (outcome.IsRefused && (outcome.Findings.Count != 1 || !IsOneSentence(outcome.Findings[0].Message)))
                    faults.Add($"{name}: no single sentence: {string.Join(" | ", outcome.Findings.Select(f => f.Message))}");
            }
            catch (Exception e)
            {
                faults.Add($"{name}: {e.GetType().Name}: {e.Message}");
            }

            TimeSpan took = Stopwatch.GetElapsedTime(start);
            slowest = took > slowest ? took : slowest;
            if (took > LongestAllowed)
                faults.Add($"{name}: took {took.TotalSeconds:F1} s");
        }

        return new AttackResult(opened, refused, faults, slowest);
    }

    /// <summary>One line that ends in its only full stop.</summary>
    public static bool IsOneSentence(string message) =>
        message.EndsWith('.') && !message.Contains('\n', StringComparison.Ordinal) && !message.TrimEnd('.').Contains(". ", StringComparison.Ordinal);
}

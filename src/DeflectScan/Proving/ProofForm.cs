using DeflectScan.Findings;
using DeflectScan.Geometry;

namespace DeflectScan.Proving;

/// <summary>A line of a form of readings, as typed.</summary>
/// <param name="Kind">Of what.</param>
/// <param name="From">A guide, from 1 at the reel.</param>
/// <param name="To">Another one; null: the tip-top.</param>
/// <param name="Length">The reading, with its unit or without.</param>
/// <param name="Within">Its ±; empty: the usual one.</param>
public sealed record TypedReading(ReadingKind Kind, int From, int? To, string Length, string Within);

/// <summary>What a form for readings by hand takes, whoever shows it: on paper, in a file, on a page.</summary>
public static class ProofForm
{
    /// <summary>Readings of one rod: all that <see cref="MostGuidesOnPaper"/> guides ask for, each three times, and some more (chosen).</summary>
    public const int MostReadings = 400;

    /// <summary>Lines for so many guides fit on a printed page.</summary>
    public const int MostGuidesOnPaper = 30;

    /// <summary>Characters of a length as a person types it (chosen).</summary>
    public const int MostLetters = 40;

    /// <summary>Why a rod's form cannot be printed, one sentence; null where it can.</summary>
    /// <param name="rings">Its rings with the tip-top's.</param>
    public static string? PaperProblem(int rings) => rings - 1 > MostGuidesOnPaper ? $"A printed sheet holds at most {MostGuidesOnPaper} guides: write the readings into a file or the page's form instead." : null;

    /// <summary>The readings of a form that was filled in, or one sentence on what is wrong with it.</summary>
    /// <param name="typed">Its lines; those left empty are left out.</param>
    /// <param name="unit">What a number without a unit is in.</param>
    public static Outcome<IReadOnlyList<HandReading>> Read(IReadOnlyList<TypedReading> typed, LengthUnit unit)
    {
        if (typed.Count == 0)
            return Refused("Fill in at least one reading.");
        if (typed.Count > MostReadings)
            return Refused($"At most {MostReadings} readings can be compared at once: give those of one rod.");
        List<HandReading> all = [];
        foreach (TypedReading t in typed)
        {
            if (t.Length.Length > MostLetters || t.Within.Length > MostLetters)
                return Refused("A length is written shorter than that: as 612, 612mm or 24 1/8in.");
            if (HandReading.Of(t.Kind, t.From, t.To, t.Length, t.Within, unit) is not { } reading)
                return Refused($"\"{t.Length}\"{(t.Within.Length > 0 ? $" ± \"{t.Within}\"" : "")} is no length: write it as 612, 612mm or 24 1/8in.");
            all.Add(reading);
        }

        return Outcome<IReadOnlyList<HandReading>>.Of(all);
    }

    private static Outcome<IReadOnlyList<HandReading>> Refused(string message) => Outcome<IReadOnlyList<HandReading>>.Refused(FindingCode.FileUnreadable, message);
}

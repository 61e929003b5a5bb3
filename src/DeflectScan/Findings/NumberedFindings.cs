using System.Globalization;

namespace DeflectScan.Findings;

/// <summary>
/// The causes that a person looks at, one each (<see cref="InShort"/>), in one order; those of a review that have places on the blank are numbered, so that
/// pictures and lists say the same number.
/// </summary>
public static class NumberedFindings
{
    /// <summary>Each cause with its mark; null where it has no place of its own.</summary>
    public static IReadOnlyList<(Finding Finding, string? Mark)> Of(IEnumerable<Finding> findings)
    {
        int number = 0;
        return [.. InShort.Of(findings).Select(f => (f, f.Severity == Severity.Review && f.Places.Count > 0 ? Mark(++number) : null))];
    }

    /// <summary>Not a number alone: those are guides.</summary>
    private static string Mark(int number) => string.Create(CultureInfo.InvariantCulture, $"?{number}");
}

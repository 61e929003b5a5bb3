using DeflectScan.Records.Finding;
using DeflectScan.Records.Model;

namespace DeflectScan.Records.Keeping;

/// <summary>Which builds a person means.</summary>
public static class BuildChoice
{
    private const int Most = 100;

    /// <summary>Those that are named, then those that have the words, by name and at most 100; each once.</summary>
    /// <param name="reader">The archive.</param>
    /// <param name="names">Ids, ends of ids or names.</param>
    /// <param name="words">Words as for finding; null for none.</param>
    /// <exception cref="ArchiveException">A name is no build's or several builds', or no build has the words.</exception>
    public static IReadOnlyList<Build> Meant(ArchiveReader reader, IReadOnlyList<string> names, string? words)
    {
        string[] found = words is null ? [] : [.. reader.Find(new FindQuery { Text = words, Limit = Most }).Select(f => f.Build).OrderBy(b => b.Name, StringComparer.OrdinalIgnoreCase).Select(b => b.Id)];
        return words is null || found.Length > 0
            ? [.. names.Select(reader.Resolve).Concat(found).Distinct().Select(id => reader.Build(id)!)]
            : throw new ArchiveException(ArchiveProblem.Refused, "No build has those words: the list of builds shows all.");
    }
}

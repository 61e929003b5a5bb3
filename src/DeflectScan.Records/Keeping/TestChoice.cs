using DeflectScan.Records.Model;

namespace DeflectScan.Records.Keeping;

/// <summary>Which of a build's measurements a person means.</summary>
public static class TestChoice
{
    private const int FewestDigits = 4;

    /// <summary>The measurement of a label, or of the end of an id.</summary>
    /// <exception cref="ArchiveException">None or several.</exception>
    public static StoredMeasurement Named(Build build, string name)
    {
        StoredMeasurement[] meant = [.. build.Measurements.Where(m =>
            string.Equals(m.Label, name, StringComparison.OrdinalIgnoreCase) || (name.Length >= FewestDigits && m.Id.EndsWith(name, StringComparison.OrdinalIgnoreCase)))];
        return meant switch
        {
            [var one] => one,
            [] => throw Refused("The build has no measurement of that label or id: the build's record lists them."),
            _ => throw Refused($"{meant.Length} measurements are called that: give the end of one's id, {string.Join(" or ", meant.Take(4).Select(m => m.Id[^8..]))}."),
        };
    }

    /// <summary>Two measurements of a build to compare: those named, else the last two that count.</summary>
    /// <exception cref="ArchiveException">There are no two.</exception>
    public static (StoredMeasurement Before, StoredMeasurement After) Two(Build build, string? before, string? after)
    {
        if (before is null && after is null && build.Counting.Count() < 2)
            throw Refused("The build needs two measurements to compare: add another photo.");
        StoredMeasurement last = after is not null ? Named(build, after) : build.LatestTest ?? throw Refused("The build has no measurement that counts: name two.");
        StoredMeasurement first = before is not null
            ? Named(build, before)
            : (build with { Measurements = [.. build.Measurements.Where(m => m.Id != last.Id)] }).LatestTest ?? throw Refused("The build needs two measurements to compare: add another photo.");
        return first.Id == last.Id ? throw Refused("That is one measurement: name two.") : (first, last);
    }

    /// <summary>The measurement named, else the latest.</summary>
    /// <exception cref="ArchiveException">There is none.</exception>
    public static StoredMeasurement Latest(Build build, string? named) => named is not null ? Named(build, named)
        : build.LatestTest ?? throw Refused($"\"{build.Facts.Name}\" has no measurement yet: add a photo first.");

    private static ArchiveException Refused(string message) => new(ArchiveProblem.Refused, message);
}

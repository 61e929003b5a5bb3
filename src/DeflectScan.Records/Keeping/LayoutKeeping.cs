using DeflectScan.Records.Model;
using DeflectScan.Reporting.Sheets;

namespace DeflectScan.Records.Keeping;

/// <summary>Where a layout that is considered comes from.</summary>
public enum LayoutSource
{
    /// <summary>What the latest measurement suggests.</summary>
    Suggested,

    /// <summary>The guides as last measured.</summary>
    Measured,
}

/// <summary>Keeping layouts with a build, and choosing one.</summary>
public static class LayoutKeeping
{
    /// <summary>Keeps a layout of a file of the layout desk.</summary>
    public static string Add(ArchiveWriter writer, string buildId, string name, SheetLayout layout) =>
        writer.AddLayout(buildId, name, $"From the file of \"{layout.Title}\".", LayoutStations.Of(layout));

    /// <summary>Keeps what the latest measurement suggests or shows.</summary>
    /// <exception cref="ArchiveException">There is no measurement, or it suggests nothing.</exception>
    public static string Add(ArchiveWriter writer, string buildId, string name, LayoutSource source)
    {
        Build build = writer.Reader.Build(buildId) ?? throw Refused("The archive has no such build: nothing was added.");
        StoredMeasurement last = build.LatestTest ?? throw Refused("The build has no measurement yet: add a photo first.");
        Measurement m = writer.Reader.Measurement(last);
        bool suggested = source == LayoutSource.Suggested;
        IReadOnlyList<LayoutStation> stations = suggested ? LayoutStations.OfSuggestion(m) : LayoutStations.Of(m);
        if (stations.Count == 0)
            throw Refused("The latest measurement suggests no other layout.");
        return writer.AddLayout(buildId, name, $"{(suggested ? "Suggested by" : "As measured in")} the test of {last.MadeAt:yyyy-MM-dd}{(last.Label is { } label ? $" \"{label}\"" : "")}.", stations);
    }

    /// <summary>Chooses the layout of a name or id; of several of one name the latest.</summary>
    /// <exception cref="ArchiveException">There is none.</exception>
    public static void Choose(ArchiveWriter writer, string buildId, string name)
    {
        ConsideredLayout[] meant = [.. writer.Reader.Build(buildId)!.Layouts.Where(l => l.Name == name || l.Id == name)];
        if (meant.Length == 0)
            throw Refused("The build has no layout of that name: the build's record lists them.");
        writer.ChooseLayout(buildId, meant[^1].Id);
    }

    private static ArchiveException Refused(string message) => new(ArchiveProblem.Refused, message);
}

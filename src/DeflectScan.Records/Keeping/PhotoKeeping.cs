using DeflectScan.Records.Model;

namespace DeflectScan.Records.Keeping;

/// <summary>Photos that are to be kept with a build, measured already.</summary>
/// <param name="Build">A build that is there, as a person calls it; null makes a new one.</param>
/// <param name="Facts">What is said of it, over what is known; the very same value where nothing is said.</param>
/// <param name="Photos">Their measurements, photos, settings and labels.</param>
/// <param name="GuidesAsMeasured">The guides as built are those that the latest photo shows.</param>
public sealed record PhotosToKeep(string? Build, Func<BuildFacts?, BuildFacts> Facts, IReadOnlyList<NewMeasurement> Photos, bool GuidesAsMeasured = false);

/// <summary>Keeping photos with a build: all of them or nothing.</summary>
public static class PhotoKeeping
{
    /// <summary>Says what is wrong with the build's name or its facts before time goes into measuring.</summary>
    /// <exception cref="ArchiveException">Something is: one sentence.</exception>
    public static void Check(ArchiveReader reader, string? build, Func<BuildFacts?, BuildFacts> facts)
    {
        BuildFacts? known = build is null ? null : reader.Build(reader.Resolve(build))!.Facts;
        BuildKeeping.Check(reader, facts(known), known);
    }

    /// <summary>Keeps them; gives the build's id, and each measurement's with whether the build had it already.</summary>
    public static (string Build, IReadOnlyList<(string Id, bool WasThere)> Added) Keep(ArchiveWriter writer, PhotosToKeep keep) => writer.AsOne(() =>
    {
        string? known = keep.Build is { } reference ? writer.Reader.Resolve(reference) : null;
        BuildFacts facts = FactsOf(writer.Reader, known, keep);
        string build = known ?? BuildKeeping.Add(writer, facts);
        if (known is not null)
            BuildKeeping.Revise(writer, known, facts);
        return (build, (IReadOnlyList<(string, bool)>)[.. keep.Photos.Select(photo => writer.AddMeasurement(build, photo))]);
    });

    private static BuildFacts FactsOf(ArchiveReader reader, string? build, PhotosToKeep keep)
    {
        Build? known = build is null ? null : reader.Build(build);
        BuildFacts facts = keep.Facts(known?.Facts);
        if (!keep.GuidesAsMeasured)
            return facts;
        Measurement latest = keep.Photos.Count > 0 ? keep.Photos[^1].Measurement : known?.LatestTest is { } stored
            ? reader.Measurement(stored)
            : throw Refused("The build has no measurement to take the guides from: add a photo.");
        return facts with { Guides = TypedGuide.AsMeasured(latest, facts.Guides) };
    }

    private static ArchiveException Refused(string message) => new(ArchiveProblem.Refused, message);
}

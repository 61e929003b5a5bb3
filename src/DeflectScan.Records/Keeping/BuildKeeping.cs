using DeflectScan.Records.Model;

namespace DeflectScan.Records.Keeping;

/// <summary>Saying what a build is: a name is one build's alone, for whoever names one.</summary>
public static class BuildKeeping
{
    /// <summary>Holds what is to be said of a build against what can be kept.</summary>
    /// <param name="reader">The archive.</param>
    /// <param name="said">What is to be said.</param>
    /// <param name="known">What was said of it before; null for a new build.</param>
    /// <exception cref="ArchiveException">It cannot be kept, or another build has the name: one sentence.</exception>
    public static void Check(ArchiveReader reader, BuildFacts said, BuildFacts? known)
    {
        if (said.FirstProblem() is { } problem)
            throw Refused(problem);
        if (said.Name != known?.Name && reader.HasName(said.Name))
            throw Refused($"There is a build \"{said.Name}\" already: add to that one, or give another name.");
    }

    /// <summary>Adds a build; gives its id.</summary>
    /// <exception cref="ArchiveException">As <see cref="Check"/>; nothing was added.</exception>
    public static string Add(ArchiveWriter writer, BuildFacts facts) => writer.AsOne(() =>
    {
        Check(writer.Reader, facts, null);
        return writer.AddBuild(facts);
    });

    /// <summary>Says anew what a build is, where that is anything new.</summary>
    /// <exception cref="ArchiveException">There is no such build, or as <see cref="Check"/>; nothing was changed.</exception>
    public static void Revise(ArchiveWriter writer, string buildId, BuildFacts facts) => writer.AsOne(() =>
    {
        BuildFacts known = (writer.Reader.Build(buildId) ?? throw Refused("The archive has no such build: nothing was changed.")).Facts;
        Check(writer.Reader, facts, known);
        if (!known.Says(facts))
            writer.ReviseBuild(buildId, facts);
        return true;
    });

    /// <summary>What is known of a build, with the guides that its latest test shows.</summary>
    /// <exception cref="ArchiveException">It has no test.</exception>
    public static BuildFacts AsMeasured(ArchiveReader reader, Build build) => build.LatestTest is { } last
        ? build.Facts with { Guides = TypedGuide.AsMeasured(reader.Measurement(last), build.Facts.Guides) }
        : throw Refused("The build has no measurement to take the guides from: add a photo.");

    private static ArchiveException Refused(string message) => new(ArchiveProblem.Refused, message);
}

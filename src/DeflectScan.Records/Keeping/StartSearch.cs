using DeflectScan.Desk;
using DeflectScan.Layout;
using DeflectScan.Records.Finding;
using DeflectScan.Records.Model;

namespace DeflectScan.Records.Keeping;

/// <summary>Starting the layout of a new rod from the best of what was found in the reference book.</summary>
public static class StartSearch
{
    /// <summary>Below this likeness it is said that the build is hardly like what was asked for: our own judgement.</summary>
    private const double HalfAlike = 0.5;

    private const double MostReelToTipMm = 6000;

    private const int MostReduction = 20;

    /// <summary>From the best build that has distances from the reel, never from the other side of the bend.</summary>
    /// <param name="reader">The archive.</param>
    /// <param name="found">What was found, best first.</param>
    /// <param name="wantedSide">The side that was asked for; null: the new build's, where that is known.</param>
    /// <param name="newBuildId">The new build: its measured bend is used if there is one; null where it is not in the archive.</param>
    /// <param name="reelToTipMm">On the new rod; null: as on the found one.</param>
    /// <param name="reduction">Guides from the reel that keep their distance from it; null: the usual number.</param>
    /// <exception cref="ArchiveException">Nothing fits: one sentence.</exception>
    public static StartedLayout Start(ArchiveReader reader, IReadOnlyList<FoundBuild> found, string? wantedSide, string? newBuildId, double? reelToTipMm, int? reduction)
    {
        if (reelToTipMm is <= 0 or > MostReelToTipMm || reduction is < 1 or > MostReduction)
            throw new ArchiveException(ArchiveProblem.Refused, $"The distance from reel to tip must be from 0 to {MostReelToTipMm:0} mm, the reduction guides from 1 to {MostReduction}.");
        Build? own = newBuildId is null ? null : reader.Build(newBuildId);
        StartRequest request = new(reelToTipMm, reduction, own is null ? null : Bend(reader, own));
        ArchiveException? last = null;
        string? side = own is null ? null : SideText.Of(own.Facts.Side) ?? own.LatestTest?.Side;
        FoundBuild[] candidates = [.. found.Where(f => f.Build.Id != newBuildId)];
        FoundBuild[] fitting = [.. candidates.Where(f => (wantedSide ?? side) is not { } wanted || f.Build.Side is null || f.Build.Side == wanted)];
        if (fitting.Length == 0 && candidates.Length > 0)
            throw new ArchiveException(ArchiveProblem.Refused, "What was found has its guides on the other side of the bend: a layout cannot be started from that.");
        foreach (FoundBuild candidate in fitting)
        {
            try
            {
                StartedLayout started = StartFromBuild.Start(reader, reader.Build(candidate.Build.Id)!, request);
                return candidate.Likeness >= HalfAlike
                    ? started
                    : started with { Says = $"{started.Says} It is only {100 * candidate.Likeness:0} % like what was asked for ({candidate.Reason}): take it as a rough start." };
            }
            catch (ArchiveException e) when (e.Problem == ArchiveProblem.Refused)
            {
                last ??= e;
            }
        }

        throw last ?? new ArchiveException(ArchiveProblem.Refused, "Nothing was found to start a layout from: ask for less.");
    }

    /// <summary>Keeps a started layout with the build that it is for, as one that is considered.</summary>
    public static string Keep(ArchiveWriter writer, string buildId, StartedLayout layout) => writer.AddLayout(buildId, $"started from {layout.From}", layout.Says, layout.Stations);

    private static BlankShape? Bend(ArchiveReader reader, Build build) =>
        build.LatestTest is { } last ? MeasuredLayout.Of(reader.Measurement(last)).Value?.Shape : null;
}

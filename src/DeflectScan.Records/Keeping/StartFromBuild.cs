using DeflectScan.Layout;
using DeflectScan.Layout.Spacing;
using DeflectScan.Layout.Start;
using DeflectScan.Records.Model;
using DeflectScan.Reporting.Sheets;

namespace DeflectScan.Records.Keeping;

/// <summary>What a new layout is made for.</summary>
/// <param name="ReelToTipMm">From the reel's front to the tip on the new rod; null: as on the build that it starts from.</param>
/// <param name="ReductionGuides">Guides from the reel that keep their distance from it; null: three on the inside of the bend, one on the outside (common practice, no source).</param>
/// <param name="Bend">The new blank's measured bend; null where it has not been measured.</param>
public sealed record StartRequest(double? ReelToTipMm, int? ReductionGuides, BlankShape? Bend);

/// <summary>A layout that was started from a build.</summary>
/// <param name="From">The build's name.</param>
/// <param name="Says">How it was carried over, in one or two sentences.</param>
/// <param name="Stations">From the reel to the tip-top.</param>
/// <param name="Reduction">Guides from the reel that are reduction guides.</param>
public sealed record StartedLayout(string From, string Says, IReadOnlyList<LayoutStation> Stations, int Reduction)
{
    /// <summary>As it is printed and taped; the rod is drawn from the reel to the tip.</summary>
    public SheetLayout Sheet() => new(
        $"Started from {From.ReplaceLineEndings(" ")}", Stations[^1].FromReelMm ?? Stations[0].FromTipMm,
        [.. Stations.Select((s, i) => i == Stations.Count - 1
            ? new SheetGuide("T", "tip-top", s.FromTipMm, s.FromReelMm, s.RingSizeMm, s.HeightMm)
            : new SheetGuide($"{i + 1}", i < Reduction ? "reduction guide" : "running guide", s.FromTipMm, s.FromReelMm, s.RingSizeMm, s.HeightMm))])
    {
        LengthIsTraced = true,
    };
}

/// <summary>Starts the layout of a new rod from a build in the archive.</summary>
public static class StartFromBuild
{
    /// <summary>The layout, from the build's chosen layout, else its guides as built, else its latest measurement.</summary>
    /// <exception cref="ArchiveException">The build has no layout measured from the reel, or it does not fit: the sentence says so.</exception>
    public static StartedLayout Start(ArchiveReader reader, Build build, StartRequest request)
    {
        (IReadOnlyList<LayoutStation> stations, string source) = Source(reader, build)
            ?? throw Refused($"\"{build.Facts.Name}\" has no layout with distances from the reel: give them with its guides, or measure with the taped distance from the reel's front.");
        double[] fromReel = [.. stations.Select(s => s.FromReelMm!.Value)];
        if (stations[^1].FromTipMm > 0)
            (stations, fromReel) = ([.. stations, new LayoutStation(0, fromReel[^1] + stations[^1].FromTipMm, null, null)], [.. fromReel, fromReel[^1] + stations[^1].FromTipMm]);
        double reelToTip = request.ReelToTipMm ?? fromReel[^1];
        bool outside = build.Facts.Side == Tracing.BendSide.Outside || (build.Facts.Side is null && build.LatestTest?.Side == "outside");
        int held = request.ReductionGuides ?? (outside ? 1 : 3);
        CarriedLayout carried = CarryOver.To(fromReel, held, reelToTip, request.Bend, new SpacingOptions())
            ?? throw Refused($"The reduction guides of \"{build.Facts.Name}\" do not fit on a rod with {reelToTip:0} mm from reel to tip: choose another build, or fewer reduction guides.");
        return new StartedLayout(
            build.Facts.Name,
            $"From {source} of \"{build.Facts.Name}\". {carried.Says}",
            [.. carried.FromTipMm.Select((tip, i) => new LayoutStation(Math.Max(0, tip), carried.FromReelMm[i], stations[i].RingSizeMm, null))],
            held);
    }

    private static (IReadOnlyList<LayoutStation>, string)? Source(ArchiveReader reader, Build build)
    {
        IEnumerable<(IReadOnlyList<LayoutStation> Stations, string Name)> candidates =
        [
            .. build.ChosenLayout is { } chosen ? [(chosen.Stations, $"the chosen layout \"{chosen.Name}\"")] : Array.Empty<(IReadOnlyList<LayoutStation>, string)>(),
            (LayoutStations.Of(build.Facts), "the guides as built"),
            .. build.LatestTest is { } test ? [(LayoutStations.Of(reader.Measurement(test)), "the latest measurement")] : Array.Empty<(IReadOnlyList<LayoutStation>, string)>(),
        ];
        foreach ((IReadOnlyList<LayoutStation> stations, string name) in candidates)
        {
            if (stations.Count >= 2 && stations.All(s => s.FromReelMm is not null))
                return (stations, name);
        }

        return null;
    }

    private static ArchiveException Refused(string message) => new(ArchiveProblem.Refused, message);
}

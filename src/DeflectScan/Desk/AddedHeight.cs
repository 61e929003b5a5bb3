using DeflectScan.Layout;
using DeflectScan.Layout.Suggesting;

namespace DeflectScan.Desk;

/// <summary>What is open about the height of an added guide that no table describes: it takes that of a guide beside it.</summary>
internal static class AddedHeight
{
    /// <summary>Guides of one kind differ by about this, expanded, mm: feet, thread, the blank's own taper (judgement, no source).</summary>
    public const double LeastMm = 0.5;

    /// <summary>Half of what the guides on both sides differ by, as it could be either one's kind.</summary>
    public static double OpenMm(SuggestedRing added, IReadOnlyList<SuggestedRing> layout)
    {
        (SuggestedRing? before, SuggestedRing? after) = Beside(added, layout);
        return before is null || after is null ? LeastMm : Math.Max(LeastMm, Math.Abs(before.Point.DistanceMm - after.Point.DistanceMm) / 2);
    }

    /// <summary>
    /// What is open about a measured guide that stands elsewhere: it keeps its distance from the axis; on another part of the taper its foot lies higher or
    /// lower by the difference of the radii.
    /// </summary>
    public static double OfMovedMm(MeasuredLayout rod, SuggestedRing moved) =>
        Math.Abs(rod.Shape.RadiusMm(moved.Point.StationMm) - rod.Shape.RadiusMm(rod.Rings[moved.Measured!.Value].StationMm));

    /// <summary>The ring diameter of the guide whose height it takes, if that was seen.</summary>
    public static double? Like(MeasuredLayout rod, SuggestedRing added, IReadOnlyList<SuggestedRing> layout)
    {
        (SuggestedRing? before, SuggestedRing? after) = Beside(added, layout);
        return (after ?? before)?.Measured is { } i ? rod.Measurement.Guides[i].RingOuterMm : null;
    }

    /// <summary>The nearest guides as measured on the reel's and on the tip's side; the tip-top counts as none.</summary>
    private static (SuggestedRing? Before, SuggestedRing? After) Beside(SuggestedRing added, IReadOnlyList<SuggestedRing> layout)
    {
        SuggestedRing[] guides = [.. layout.SkipLast(1).Where(r => r.Measured is not null)];
        return (
            guides.LastOrDefault(r => r.Point.StationMm > added.Point.StationMm),
            guides.FirstOrDefault(r => r.Point.StationMm < added.Point.StationMm));
    }
}

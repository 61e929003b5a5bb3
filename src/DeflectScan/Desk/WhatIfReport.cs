using System.Diagnostics.CodeAnalysis;
using DeflectScan.Layout;
using DeflectScan.Layout.Edits;
using DeflectScan.Layout.Guides;
using DeflectScan.Layout.Suggesting;

namespace DeflectScan.Desk;

/// <summary>A layout before and after some changes, judged on the same bend.</summary>
/// <param name="Before">As measured.</param>
/// <param name="After">As changed.</param>
/// <param name="Notes">What a person should know about the figures: one plain sentence each.</param>
public sealed record WhatIfReport(JudgedLayout Before, JudgedLayout After, IReadOnlyList<string> Notes)
{
    /// <summary>The guides stand outside the bend: the pair with the least clearance follows worst.</summary>
    public bool IsOutside { get; init; }

    /// <summary>
    /// Expanded uncertainty in mm of a ring's height from a guide table: the foot's fit, the thread under it, how the frame was bent (judgement, no source).
    /// </summary>
    private const double TableHeightMm = 0.5;

    /// <summary>The report, or one plain sentence that says why there is none.</summary>
    /// <param name="rod">The rod as measured.</param>
    /// <param name="changes">All at once, each on the layout as measured.</param>
    /// <param name="table">The guides at hand, if known.</param>
    /// <param name="report">The report.</param>
    /// <param name="problem">Why there is none.</param>
    public static bool TryMake(
        MeasuredLayout rod,
        IReadOnlyList<GuideChange> changes,
        GuideTable? table,
        [NotNullWhen(true)] out WhatIfReport? report,
        [NotNullWhen(false)] out string? problem)
    {
        report = null;
        problem = changes.Select(c => MissingRing(c, table)).FirstOrDefault(p => p is not null);
        if (problem is not null)
            return false;
        LayoutEdit[] edits = [.. changes.Select(c => Edit(rod, c, table))];
        if (!WhatIf.TryPlace(rod.Shape, rod.Rings, rod.Side, edits, out IReadOnlyList<SuggestedRing>? layout, out problem))
            return false;
        PlannedRing[] planned = [.. layout.Select(r => Planned(rod, r, layout, changes, table))];
        JudgedLayout after = PredictedLayout.Judge(rod, planned);
        report = new WhatIfReport(JudgedLayout.Measured(rod), after, DeskNotes.Of(rod, after)) { IsOutside = rod.Side == GuideSide.Outside };
        return true;
    }

    /// <summary>The changes that the measurement itself suggests; none where it suggests none.</summary>
    public static IReadOnlyList<GuideChange> Suggested(MeasuredLayout rod) => rod.Measurement.Suggestion is not { } s
        ? []
        : [.. s.Moves.Select(m => new MoveTo(m.Guide, m.ToMm)), .. s.AddAtMm is { } at ? (GuideChange[])[new AddAt(at)] : []];

    private static double? RingOf(GuideChange change) => change switch { MoveTo m => m.RingSize, AddAt a => a.RingSize, _ => null };

    private static string? MissingRing(GuideChange change, GuideTable? table) =>
        RingOf(change) is not { } size || table?.OfSize(size) is not null ? null
        : table is null ? $"Ring size {size:0.#} needs a guide table that says how high it stands: give such a table."
        : $"The guide table has no ring size {size:0.#}: it has {string.Join(", ", table.Guides.Select(g => $"{g.RingSize:0.#}").Distinct())}.";

    private static LayoutEdit Edit(MeasuredLayout rod, GuideChange change, GuideTable? table)
    {
        double? Distance(double station) =>
            RingOf(change) is { } size ? table!.OfSize(size)!.ContactDistanceMm(rod.Shape.RadiusMm(station), rod.Side) : null;
        return change switch
        {
            MoveTo m => new MoveGuide(m.Guide - 1, m.StationMm, Distance(m.StationMm)),
            AddAt a => new AddGuide(a.StationMm, Distance(a.StationMm)),
            TakeOff t => new RemoveGuide(t.Guide - 1),
            _ => throw new ArgumentException("An unknown change.", nameof(change)),
        };
    }

    private static PlannedRing Planned(
        MeasuredLayout rod, SuggestedRing ring, IReadOnlyList<SuggestedRing> layout, IReadOnlyList<GuideChange> changes, GuideTable? table)
    {
        GuideChange? change = ring.Measured is { } m
            ? changes.OfType<MoveTo>().FirstOrDefault(c => c.Guide == m + 1)
            : changes.OfType<AddAt>().FirstOrDefault(c => c.StationMm == ring.Point.StationMm);
        if (change is not null && RingOf(change) is { } size)
            return new PlannedRing(ring with { Measured = ring.Measured }, TableHeightMm, table!.OfSize(size)!.RingSize);
        if (ring.Measured is { } own)
            return new PlannedRing(ring, AddedHeight.OfMovedMm(rod, ring), rod.Measurement.Guides[own].RingOuterMm);

        return new PlannedRing(ring, AddedHeight.OpenMm(ring, layout), AddedHeight.Like(rod, ring, layout));
    }
}

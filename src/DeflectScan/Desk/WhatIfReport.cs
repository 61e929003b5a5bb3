using DeflectScan.Findings;
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

    /// <summary>The report; refused (guides-uncertain) where a change cannot be.</summary>
    /// <param name="rod">The rod as measured.</param>
    /// <param name="changes">All at once, each on the layout as measured.</param>
    /// <param name="table">The guides at hand, if known.</param>
    public static Outcome<WhatIfReport> Of(MeasuredLayout rod, IReadOnlyList<GuideChange> changes, GuideTable? table)
    {
        if (changes.Select(c => MissingRing(c, table)).FirstOrDefault(p => p is not null) is { } missing)
            return Outcome<WhatIfReport>.Refused(FindingCode.GuidesUncertain, missing);
        return WhatIf.Place(rod.Shape, rod.Rings, rod.Side, [.. changes.Select(c => Edit(rod, c, table))]).Map(layout =>
        {
            JudgedLayout after = PredictedLayout.Judge(rod, [.. layout.Select(r => Planned(rod, r, layout, changes, table))]);
            return new WhatIfReport(JudgedLayout.Measured(rod), after, DeskNotes.Of(rod, after)) { IsOutside = rod.Side == GuideSide.Outside };
        });
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

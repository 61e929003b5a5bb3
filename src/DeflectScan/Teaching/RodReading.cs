using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Tracing;

namespace DeflectScan.Teaching;

/// <summary>One student's rod from its measurement document. Pure, and the same document gives the same rod: a board may keep it.</summary>
public static class RodReading
{
    public static ClassRod Of(ClassPhoto photo)
    {
        if (photo.Measurement is not { } m)
            return new ClassRod(photo.Student, photo, RodStanding.NoFigures, photo.Problem ?? "It is not measured yet.");
        RodStanding standing = m.Status switch
        {
            MeasurementStatus.Ok => RodStanding.Measured, MeasurementStatus.NeedsReview => RodStanding.LookFirst, _ => RodStanding.NoFigures,
        };
        string? why = standing == RodStanding.Measured ? null
            : InShort.Of(m.Findings.Where(f => f.Severity != Severity.Note).OrderByDescending(f => f.Severity)).FirstOrDefault()?.Message ?? "Its figures do not stand.";
        ClassRod rod = new(photo.Student, photo, standing, why) { IsOutside = m.Side == BendSide.Outside };
        return standing == RodStanding.NoFigures ? rod
            : MeasuredLayout.Of(m).Value is { } layout ? WithFigures(rod, layout)
            : rod with { Standing = RodStanding.NoFigures, Why = "The photo shows no layout: it was measured at rest, or its document is damaged." };
    }

    private static ClassRod WithFigures(ClassRod rod, MeasuredLayout layout)
    {
        Measurement m = layout.Measurement;
        bool doubted = m.GuidesInDoubt || m.SideInDoubt();
        IntervalReport[] running = [.. m.Intervals.Skip(layout.Reduction - 1).Where(p => !m.InDoubt(p))];
        return rod with
        {
            Strip = RodStrip.Of(layout),
            Guides = doubted ? null : m.Guides.Count(g => !g.IsTip),
            Bow = running.MaxBy(p => p.BowMm) is { } bow ? new RodFigure(bow.From, bow.To, bow.BowMm, bow.Bow.UncertaintyMm) : null,
            Gap = running.MaxBy(p => p.GapMm) is { } gap ? new RodFigure(gap.From, gap.To, gap.GapMm, gap.Gap.UncertaintyMm) : null,
            Clearance = running.MinBy(p => p.ClearanceMm) is { } near ? new RodFigure(near.From, near.To, near.ClearanceMm, near.Clearance.UncertaintyMm) : null,
            Touches = running.Any(p => p.TouchesBlank),
            BestBowMm = doubted ? null : BestBow(layout),
        };
    }

    private static double? BestBow(MeasuredLayout layout)
    {
        int guides = layout.Rings.Count - 1;
        SpacingRequest request = new() { Guides = guides, Hold = layout.Reduction, CurveTo = 0 };
        return SpacingReport.Of(layout, request, null).Value is { Layout: { } found } best ? found.Pairs.Skip(best.Held - 1).Max(p => p.BowMm) : null;
    }
}

using DeflectScan.Reporting.Json;
using DeflectScan.Tracing;

namespace DeflectScan.Reporting.Csv;

/// <summary>One measurement as fields of a table: mm, uncertainties 95 %, the document's own figures with all their digits. Figures that are in doubt are left out.</summary>
internal static class MeasurementColumns
{
    public static readonly IReadOnlyList<string> Head =
    [
        "status", "guides", "side", "traced_length_mm", "tip_turn_deg", "worst_from", "worst_to", "worst_by", "worst_mm", "worst_uncertainty_mm",
        "largest_gap_from", "largest_gap_to", "largest_gap_mm", "largest_gap_uncertainty_mm", "largest_bow_from", "largest_bow_to", "largest_bow_mm", "largest_bow_uncertainty_mm",
        "least_clearance_mm", "touches_blank", "add_at_mm", "bow_after_mm", "to_do",
    ];

    /// <param name="m">What was measured; null where something went wrong at the photo.</param>
    /// <param name="problem">What went wrong.</param>
    public static IEnumerable<object?> Of(Measurement? m, string? problem)
    {
        if (m is null)
            return ["failed", .. Enumerable.Repeat<object?>(null, Head.Count - 2), problem];
        bool known = m.Guides.Count > 0 && !m.AllInDoubt();
        IReadOnlyList<IntervalReport> sure = known ? m.SurePairs() : [];
        (IntervalReport? gap, IntervalReport? bow) = (sure.MaxBy(p => p.GapMm), sure.MaxBy(p => p.BowMm));
        IntervalReport? worst = known ? m.SureWorst() : null;
        bool outside = m.Side == BendSide.Outside;
        return
        [
            MeasurementJson.Spell(m.Status), InBrief.Guides(m), m.Side is { } side && !m.SideInDoubt() ? MeasurementJson.Spell(side) : null,
            Rounded(m.Blank?.TracedLengthMm), Rounded(m.Blank?.TipTurnDeg),
            worst?.From, worst?.To, worst is null ? null : outside ? "clearance" : "bow", Rounded(worst?.Follows(m.Side).Mm), Rounded(worst?.Follows(m.Side).UncertaintyMm),
            gap?.From, gap?.To, Rounded(gap?.GapMm), Rounded(gap?.Gap.UncertaintyMm), bow?.From, bow?.To, Rounded(bow?.BowMm), Rounded(bow?.Bow.UncertaintyMm),
            sure.Count == 0 ? null : Rounded(sure.Min(p => p.ClearanceMm)), sure.Count == 0 ? null : sure.Any(p => p.TouchesBlank),
            known && !m.GuidesInDoubt ? Rounded(m.Suggestion?.AddAtMm) : null, known && !m.GuidesInDoubt ? Rounded(m.Suggestion?.BowAfterMm) : null,
            InBrief.ToDo(m),
        ];
    }

    /// <summary>To the digits of the document.</summary>
    private static double? Rounded(double? value) => value is { } v ? Math.Round(v, MeasurementJson.LengthDecimals) : null;
}

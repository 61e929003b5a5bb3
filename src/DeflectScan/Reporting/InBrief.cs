using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Tracing;

namespace DeflectScan.Reporting;

/// <summary>A measurement in one line among many others.</summary>
public static class InBrief
{
    /// <summary>"ok", "needs review", "refused".</summary>
    public static string Status(Measurement m) => m.Status switch { MeasurementStatus.Ok => "ok", MeasurementStatus.NeedsReview => "needs review", _ => "refused" };

    /// <summary>How many guides stand on the blank, the tip-top not counted; null where that is not known or in doubt.</summary>
    public static int? Guides(Measurement m) => m.Guides.Count == 0 || m.GuidesInDoubt || m.SideInDoubt() ? null : m.Guides.Count(g => !g.IsTip);

    /// <summary>"5 to 6, bow 6.0 ± 0.1 mm": the running pair that follows worst, of those not in doubt; null where none is known.</summary>
    public static string? Worst(Measurement m, LengthUnit unit = LengthUnit.Millimetres) =>
        m.Guides.Count > 0 && !m.AllInDoubt() && WorstFigure.Of(m) is { } worst ? $"{Pair(m, worst.Pair)}, {worst.Whole(unit)}" : null;

    /// <summary>"5 to 6", "7 to tip-top".</summary>
    public static string Pair(Measurement m, IntervalReport pair) => $"{pair.From} to {(m.Guides[pair.To - 1].IsTip ? "tip-top" : $"{pair.To}")}";

    /// <summary>
    /// What to do about it, one sentence: why it is refused or what to look at first, and for a measured rod the move that gains most. Null where there is nothing.
    /// </summary>
    public static string? ToDo(Measurement m, LengthUnit unit = LengthUnit.Millimetres)
    {
        if (InShort.Of(m.Findings.Where(f => f.Severity != Severity.Note).OrderByDescending(f => f.Severity)).FirstOrDefault() is { } first)
            return UnitsInSentences.Of(first.Message, unit);
        return OverlayWords.Suggestion(m, unit);
    }
}

using DeflectScan.Findings;
using DeflectScan.Geometry;

namespace DeflectScan.Web.Words;

/// <summary>What the page says first of a photo, in a builder's words.</summary>
/// <param name="Status">"Measured", "Look at 2 places", "Not measured".</param>
/// <param name="Answer">The one line: which pair follows worst, or why nothing is said.</param>
/// <param name="From">The pair that it is about; null where it names none.</param>
internal sealed record Headline(string Status, string Answer, int? From)
{
    /// <param name="m">What was measured.</param>
    /// <param name="places">How many numbered places are to be looked at.</param>
    /// <param name="unit">Unit of the figures.</param>
    public static Headline Of(Measurement m, int places, LengthUnit unit)
    {
        if (m.Status == MeasurementStatus.Refused)
        {
            Finding? why = m.Findings.FirstOrDefault(f => f.Severity == Severity.Refusal);
            return new Headline("Not measured", why is null ? "No figures can be given." : PageWords.Of(why.Message, unit), null);
        }

        bool review = m.Status == MeasurementStatus.NeedsReview || places > 0;
        string status = !review ? "Measured" : places switch { 0 => "Measured, but read the notes", 1 => "Look at 1 place", _ => $"Look at {places} places" };
        if (m.GuidesInDoubt || (places > 0 && m.FollowsWorst is null))
            return new Headline(status, "Which pair follows worst is not said before the places are looked at.", null);
        if (m.FollowsWorst is not { } worst)
            return new Headline(status, m.Blank is { } b ? $"Blank traced over {UnitsInSentences.Bare(b.TracedLengthMm, unit)} {UnitsInSentences.Name(unit)}." : "", null);
        string figure = m.Side == Tracing.BendSide.Outside
            ? $"least clearance {Figure(worst.Clearance, unit)}"
            : $"bow {Figure(worst.Bow, unit)}";
        string pair = m.Guides[worst.To - 1].IsTip ? $"Guide {worst.From} to tip-top" : $"Guides {worst.From} to {worst.To}";
        return new Headline(status, $"{pair} {(m.Guides[worst.To - 1].IsTip ? "follows" : "follow")} worst: {figure}", worst.From);
    }

    /// <summary>"6.1 ±0.1 mm", spelt as the command line's tables spell it.</summary>
    private static string Figure(MeasuredLength length, LengthUnit unit)
    {
        double lastPlaceMm = unit == LengthUnit.Millimetres ? 0.1 : 0.01 * UnitsText.MmPerInch;
        return $"{UnitsInSentences.Bare(length.Mm, unit)} ±{UnitsInSentences.Bare(UnitsText.RoundedUp(length.UncertaintyMm, lastPlaceMm), unit)} {UnitsInSentences.Name(unit)}";
    }
}

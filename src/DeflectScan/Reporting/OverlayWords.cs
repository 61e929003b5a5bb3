using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Tracing;

namespace DeflectScan.Reporting;

/// <summary>The sentences on the overlay's strips.</summary>
internal static class OverlayWords
{
    /// <summary>What to say first.</summary>
    public static string Headline(Measurement m, LengthUnit unit = LengthUnit.Millimetres) => m.Status switch
    {
        MeasurementStatus.Refused => "Not measured",
        MeasurementStatus.NeedsReview when m.SideInDoubt() => "Needs review · the side of the bend is in doubt, and with it every figure",
        MeasurementStatus.NeedsReview when m.AllInDoubt() => "Needs review · which guides there are is in doubt",
        MeasurementStatus.NeedsReview when m.GuidesInDoubt => WorstFigure.Of(m) is { } s
            ? $"Needs review · of the pairs not in doubt follows worst: {Worst(m, s, unit)}"
            : "Needs review · every running pair is in doubt",
        MeasurementStatus.NeedsReview => WorstFigure.Of(m) is { } w ? $"Needs review · follows worst: {Worst(m, w, unit)}" : "Needs review",
        _ => WorstFigure.Of(m) is { } w ? $"Follows worst: {Worst(m, w, unit)}" : "Measured",
    };

    /// <summary>The largest gap and bow of the pairs that are not in doubt, or null.</summary>
    public static string? Largest(Measurement m, LengthUnit unit = LengthUnit.Millimetres)
    {
        IReadOnlyList<IntervalReport> sure = m.SurePairs();
        if (sure.MaxBy(p => p.GapMm) is not { } gap || sure.MaxBy(p => p.BowMm) is not { } bow)
            return null;
        string figures = $"argest gap {UnitsInSentences.Figure(gap.Gap, unit)}, {Pair(m, gap)} · largest bow {UnitsInSentences.Figure(bow.Bow, unit)}, {Pair(m, bow)}";
        return sure.Count < m.Intervals.Count ? $"Not in doubt: l{figures}" : $"L{figures}";
    }

    /// <summary>How the photo was scaled, or null.</summary>
    public static string? Scale(Measurement m)
    {
        if (m.Calibration is not { } c || c.Cards.Count == 0)
            return null;
        string cards = (c.Cards.Count == 1 ? "card " : "cards ") + string.Join(", ", c.Cards.Select(k => k.Letter));
        return $"Scale from {cards}: {c.MmPerPx:0.00} mm a pixel ± {UnitsText.RoundedUp(c.ScaleUncertaintyPercent, 0.01):0.0#} % · camera tilt {c.TiltDeg:0.0}°";
    }

    /// <summary>Every cause that stands against a figure, those with a mark on the picture first.</summary>
    public static IEnumerable<(Finding Finding, string? Mark)> Reasons(Measurement m) => NumberedFindings.Of(m.Findings)
        .Where(f => f.Finding.Severity != Severity.Note).OrderByDescending(f => f.Finding.Severity).ThenBy(f => f.Mark is null);

    /// <summary>A cause's sentence, its places in a list, after the mark that stands at them.</summary>
    public static string Said((Finding Finding, string? Mark) reason) => reason.Mark is { } mark ? $"{mark} {reason.Finding.Message}" : reason.Finding.Message;

    /// <summary>What the suggestion asks for, or why there is none; null where nothing was measured.</summary>
    public static string? Suggestion(Measurement m, LengthUnit unit)
    {
        if (m.Suggestion is not { } s)
            return null;
        string Length(double mm) => $"{UnitsInSentences.Bare(mm, unit)} {UnitsInSentences.Name(unit)}";
        string moves = string.Concat(
            Moves("tip", [.. s.Moves.Where(v => v.CanBeMade && v.ToMm < v.FromMm)], unit),
            Moves("reel", [.. s.Moves.Where(v => v.CanBeMade && v.ToMm > v.FromMm)], unit));
        string head = m.GuidesInDoubt ? "Suggestion, if the guides are as read" : "Suggestion";
        if (s.AddAtMm is not { } add)
            return moves.Length == 0 ? UnitsInSentences.Of(s.Why, unit) : $"{head}: no extra guide.{moves} Largest running bow then {Length(s.BowAfterMm)}, now {Length(s.BowBeforeMm)}.";
        return $"{head}: add a guide {Station(add, unit)} from the tip.{moves} Largest running bow then {Length(s.BowAfterMm)}, now {Length(s.BowBeforeMm)}.";
    }

    private static string Moves(string end, IReadOnlyList<MoveReport> moves, LengthUnit unit)
    {
        if (moves.Count == 0)
            return "";
        string suffix = unit == LengthUnit.Millimetres ? " mm" : " in";
        string list = string.Join(", ", moves.Select(v => $"{v.Guide} by {Short(Math.Abs(v.ToMm - v.FromMm), unit)[..^3]}"));
        return $" Move towards the {end}: {(moves.Count == 1 ? "guide" : "guides")} {list}{suffix}.";
    }

    /// <summary>"guides 4 and 5", "guide 7 and the tip-top".</summary>
    public static string Pair(Measurement m, IntervalReport pair) =>
        m.Guides[pair.To - 1].IsTip ? $"guide {pair.From} to tip-top" : $"guides {pair.From} and {pair.To}";

    /// <summary>The short name that stands beside a ring.</summary>
    public static string Badge(GuideReport guide) => guide.IsTip ? "T" : $"{guide.Index}";

    private static string Worst(Measurement m, WorstFigure worst, LengthUnit unit) => $"{worst.Whole(unit)}, {Pair(m, worst.Pair)}";

    private static string Station(double mm, LengthUnit unit) => unit == LengthUnit.Millimetres
        ? $"{UnitsText.Millimetres(mm, 0)} ({UnitsText.Sixteenths(mm)})"
        : $"{UnitsText.Sixteenths(mm)} ({UnitsText.Millimetres(mm, 0)})";

    private static string Short(double mm, LengthUnit unit) =>
        unit == LengthUnit.Millimetres ? UnitsText.Millimetres(mm, 0) : UnitsText.Sixteenths(mm);
}

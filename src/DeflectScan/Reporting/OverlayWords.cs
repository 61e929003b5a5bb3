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
        MeasurementStatus.NeedsReview when m.GuidesInDoubt => "Needs review · guides and side of the bend in doubt",
        MeasurementStatus.NeedsReview => m.FollowsWorst is { } w ? $"Needs review · follows worst: {Worst(m, w, unit)}" : "Needs review",
        _ => m.FollowsWorst is { } w ? $"Follows worst: {Worst(m, w, unit)}" : "Measured",
    };

    /// <summary>The largest gap and bow of all pairs, or null.</summary>
    public static string? Largest(Measurement m, LengthUnit unit = LengthUnit.Millimetres) =>
        !m.GuidesInDoubt && m.Largest is { } l && m.Intervals.FirstOrDefault(i => i.From == l.BowFrom) is { } pair
            ? $"Largest gap {Gap(m, unit)} · largest bow {UnitsInSentences.Figure(pair.BowMm, pair.BowUncertaintyMm, unit)}, {Pair(m, pair)}"
            : null;

    /// <summary>How the photo was scaled, or null.</summary>
    public static string? Scale(Measurement m)
    {
        if (m.Calibration is not { } c || c.Cards.Count == 0)
            return null;
        string cards = (c.Cards.Count == 1 ? "card " : "cards ") + string.Join(", ", c.Cards.Select(k => k.Letter));
        return $"Scale from {cards}: {c.MmPerPx:0.00} mm a pixel ± {UnitsText.RoundedUp(c.ScaleUncertaintyPercent, 0.01):0.0#} % · camera tilt {c.TiltDeg:0.0}°";
    }

    /// <summary>Every cause that stands against a figure, its places in a list.</summary>
    public static IEnumerable<string> Warnings(Measurement m) =>
        InShort.Of(m.Findings.Where(f => f.Severity != Severity.Note).OrderByDescending(f => f.Severity)).Select(f => f.Message);

    /// <summary>What the suggestion asks for, or why there is none; null where nothing was measured.</summary>
    public static string? Suggestion(Measurement m, LengthUnit unit)
    {
        if (m.Suggestion is not { } s)
            return null;
        string Length(double mm) => $"{UnitsInSentences.Bare(mm, unit)} {UnitsInSentences.Name(unit)}";
        string moves = string.Concat(
            Moves("tip", [.. s.Moves.Where(v => v.ToMm < v.FromMm)], unit),
            Moves("reel", [.. s.Moves.Where(v => v.ToMm > v.FromMm)], unit));
        if (s.AddAtMm is not { } add)
            return moves.Length == 0 ? UnitsInSentences.Of(s.Why, unit) : $"Suggestion: no extra guide.{moves} Largest running bow then {Length(s.BowAfterMm)}, now {Length(s.BowBeforeMm)}.";
        return $"Suggestion: add a guide {Station(add, unit)} from the tip.{moves} Largest running bow then {Length(s.BowAfterMm)}, now {Length(s.BowBeforeMm)}.";
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

    /// <summary>The running pair that follows worst is marked, unless the guides are in doubt.</summary>
    public static bool IsMarked(Measurement m, IntervalReport pair) => !m.GuidesInDoubt && pair == m.FollowsWorst;

    private static string Worst(Measurement m, IntervalReport pair, LengthUnit unit) => m.Side == BendSide.Outside
        ? $"clearance {UnitsInSentences.Figure(pair.ClearanceMm, pair.GapUncertaintyMm, unit)}, {Pair(m, pair)}"
        : $"bow {UnitsInSentences.Figure(pair.BowMm, pair.BowUncertaintyMm, unit)}, {Pair(m, pair)}";

    private static string Gap(Measurement m, LengthUnit unit) =>
        m.Intervals.FirstOrDefault(i => i.From == m.Largest!.GapFrom) is { } pair
            ? $"{UnitsInSentences.Figure(pair.GapMm, pair.GapUncertaintyMm, unit)}, {Pair(m, pair)}"
            : "unknown";

    private static string Station(double mm, LengthUnit unit) => unit == LengthUnit.Millimetres
        ? $"{UnitsText.Millimetres(mm, 0)} ({UnitsText.Sixteenths(mm)})"
        : $"{UnitsText.Sixteenths(mm)} ({UnitsText.Millimetres(mm, 0)})";

    private static string Short(double mm, LengthUnit unit) =>
        unit == LengthUnit.Millimetres ? UnitsText.Millimetres(mm, 0) : UnitsText.Sixteenths(mm);
}

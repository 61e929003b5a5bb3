namespace DeflectScan.Layout.Suggesting;

/// <summary>The suggestion in one or two plain sentences; guides counted from 1 at the reel, as on every other sheet.</summary>
internal static class SuggestionText
{
    public static string Why(
        Suggestion.Trial chosen, Suggestion.Trial now, Suggestion.Trial? level, Suggestion.Trial? next, double? addAtMm, IReadOnlyList<GuideMove> moves, SuggestionOptions options)
    {
        string worst = $"The blank bows most, {now.Bow:F1} mm, between {Name(now, now.WorstFrom)} and {Name(now, now.WorstFrom + 1)}";
        int[] shifted = [.. moves.Where(m => m.CanBeMade).Select(m => m.Ring + 1)];
        string shifts = shifted.Length switch
        {
            0 => string.Empty,
            1 => $"guide {shifted[0]} shifted",
            _ => $"guides {string.Join(", ", shifted.SkipLast(1))} and {shifted[^1]} shifted",
        };
        string outcome = $"{now.Bow:F1} to {chosen.Bow:F1} mm";
        string clears = now.Figures.Rings[0].Side == GuideSide.Outside && now.Clearance < options.LeastClearanceMm
            ? $" The line {Near(now.Clearance)} now and would {(Touches(chosen.Clearance) ? "still lie on it" : $"keep {chosen.Clearance:F1} mm")}."
            : string.Empty;
        switch (chosen.Kind)
        {
            case SuggestionKind.Add:
                string also = shifts.Length > 0 ? $", with {shifts}," : string.Empty;
                string still = next is not null && chosen.Steepest > options.SteepBowPerChord
                    ? $" A second extra guide would bring it to {next.Bow:F1} mm."
                    : string.Empty;
                return $"{worst}; one more guide {addAtMm:F0} mm from the tip{also} brings the largest running bow from {outcome}.{still}{clears}";
            case SuggestionKind.Level:
                return $"{worst}; with {shifts} the largest running bow falls from {outcome}, without an extra guide.{clears}";
            default:
                string levelled = level is not null && now.Bow - level.Bow >= 0.1 ? $" Shifting {level.Moved(now)} guides would take it to {level.Bow:F1} mm, which is not worth the work." : string.Empty;
                string more = next is not null ? $" One more guide would only take it to {next.Bow:F1} mm, for its added weight." : string.Empty;
                return $"The running guides are level enough to leave: their largest bow is {now.Bow:F1} mm.{levelled}{more}{Warning(now, options)}";
        }
    }

    private static string Warning(Suggestion.Trial now, SuggestionOptions options) =>
        now.Figures.Rings[0].Side == GuideSide.Outside && now.Clearance < options.LeastClearanceMm
            ? $" The line {Near(now.Clearance)}, and moving guides does not cure it: choose higher rings there."
            : string.Empty;

    private static string Near(double clearance) => Touches(clearance) ? "lies on the blank" : $"comes within {clearance:F1} mm of the blank";

    /// <summary>What would be printed as nothing, or less.</summary>
    private static bool Touches(double clearance) => clearance < 0.05;

    private static string Name(Suggestion.Trial trial, int ring) =>
        ring == trial.Rings.Count - 1 ? "the tip-top" : $"guide {ring + 1}";
}

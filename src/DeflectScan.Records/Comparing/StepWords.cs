namespace DeflectScan.Records.Comparing;

/// <summary>What is said first of a step in a series: which guide moved by how much, and what that did.</summary>
public static class StepWords
{
    /// <summary>One sentence, lengths in mm.</summary>
    public static string Headline(Comparison c)
    {
        GuideMatch[] moved = [.. c.Guides.Where(g => g.HasMoved)];
        int added = c.Guides.Count(g => g.Before is null);
        int gone = c.Guides.Count(g => g.After is null);
        string[] said =
        [
            .. moved.Length switch
            {
                0 => Array.Empty<string>(),
                1 => [$"Guide {moved[0].After} moved {Math.Abs(moved[0].MovedMm!.Value):0.0} ±{ChangeWords.Within(moved[0].UncertaintyMm!.Value)} mm toward the {(moved[0].MovedMm > 0 ? "reel" : "tip")}"],
                _ => [$"{moved.Length} guides moved"],
            },
            .. added switch { 0 => Array.Empty<string>(), 1 => ["One guide was added"], _ => [$"{added} guides were added"] },
            .. gone switch { 0 => Array.Empty<string>(), 1 => ["One guide was taken away"], _ => [$"{gone} guides were taken away"] },
        ];
        string what = said.Length == 0
            ? c.Stand is { RodMoved: true } ? "No guide moved, but the rod did" : "No guide moved"
            : string.Join(", ", said.Select((s, i) => i == 0 ? s : char.ToLowerInvariant(s[0]) + s[1..]));
        PairMatch? most = c.Pairs.Where(p => p.Bow is { IsSure: true }).MaxBy(p => Math.Abs(p.Bow!.ByMm));
        return most is { Bow: { } bow, After: { } pair }
            ? $"{what}: bow {Name(c, pair)} {(bow.ByMm < 0 ? "less" : "more")} by {Math.Abs(bow.ByMm):0.0} ±{ChangeWords.Within(bow.UncertaintyMm)} mm, now {bow.AfterMm:0.0} ±{ChangeWords.Within(pair.Bow.UncertaintyMm)} mm."
            : $"{what}: no bow changed by more than the photos leave open.";
    }

    private static string Name(Comparison c, IntervalReport pair) => $"{pair.From} to {(c.After.Guides[pair.To - 1].IsTip ? "tip-top" : pair.To)}";
}

using System.Globalization;
using DeflectScan.Desk;

namespace DeflectScan.Teaching;

/// <summary>What a student is told: what is good, and the one or two moves that gain most. Sentences in mm.</summary>
/// <param name="Good">At most two sentences.</param>
/// <param name="Moves">At most two, and what they gain; else why none is worth its work.</param>
public sealed record RodAdvice(IReadOnlyList<string> Good, IReadOnlyList<string> Moves)
{
    /// <summary>Moves that are told: more nobody makes before looking again.</summary>
    private const int MostMoves = 2;

    private const int MostGood = 2;

    public static RodAdvice None { get; } = new([], []);

    public static RodAdvice Of(ClassRod rod)
    {
        if (rod.Photo.Measurement is not { } m || rod.Bow is not { } bow || m.GuidesInDoubt || m.SideInDoubt() || MeasuredLayout.Of(m).Value is not { } layout)
            return None;
        IReadOnlyList<SingleMove> moves = SingleMoves.Best(layout, MostMoves);
        string? suggested = Suggested(m);
        IEnumerable<string> gains = m.Suggestion?.AddAtMm is not null ? [.. moves.Take(MostMoves - 1).Select(Words), suggested!]
            : moves.Count > 0 ? moves.Select(Words)
            : [suggested ?? Nothing(rod, bow)];
        return new RodAdvice([.. Praise(rod, bow).Take(MostGood)], [.. gains]);
    }

    private static IEnumerable<string> Praise(ClassRod rod, RodFigure bow)
    {
        if (rod.KeepsTarget == true)
            yield return string.Create(CultureInfo.InvariantCulture, $"The largest running bow, {bow.Mm:0.0} mm, keeps the target of {rod.TargetMm:0.0} mm.");
        if (rod.OverBest <= ClassWords.AsGoodAsBest)
            yield return string.Create(CultureInfo.InvariantCulture, $"The spacing is near the best that {rod.Guides} guides can do on this blank: {bow.Mm:0.0} mm of bow where {rod.BestBowMm:0.0} mm is possible.");
        if (!rod.Touches && rod.Clearance is { Mm: var clear, UncertaintyMm: var open } && clear > open)
            yield return string.Create(CultureInfo.InvariantCulture, $"The line clears the blank everywhere between the running guides, by {clear:0.0} mm at the least.");
        if (Evenest(rod) is { } even)
            yield return even;
    }

    /// <summary>The stretch of neighbouring running pairs that are most alike.</summary>
    private static string? Evenest(ClassRod rod)
    {
        StripPair[] pairs = [.. rod.Strip!.Pairs.Where(p => p is { IsRunning: true, InDoubt: false })];
        if (pairs.Length != rod.Strip.Pairs.Count(p => p.IsRunning) || pairs.Length < 2)
            return null;
        int first = rod.Strip.Pairs.Count - pairs.Length;
        int at = Enumerable.Range(0, pairs.Length - 1).MinBy(i => Math.Abs(pairs[i].BowMm - pairs[i + 1].BowMm));
        int guide = first + at + 1;
        string last = rod.Strip.Rings[guide + 1].IsTip ? "the tip-top" : $"{guide + 2}";
        return string.Create(CultureInfo.InvariantCulture, $"Between guides {guide}, {guide + 1} and {last} the spacing is even: bows of {pairs[at].BowMm:0.0} and {pairs[at + 1].BowMm:0.0} mm.");
    }

    private static string Words(SingleMove move, int i)
    {
        double by = Math.Abs(move.ToMm - move.FromMm);
        string then = i == 0 ? "" : "Then slide ";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{(i == 0 ? "Slide " : then)}guide {move.Guide} by {by:0} mm towards the {(move.ToMm < move.FromMm ? "tip" : "reel")}, to {move.ToMm:0} mm from the tip: the largest running bow falls from {move.BowBeforeMm:0.0} to {move.BowAfterMm:0.0} mm.");
    }

    /// <summary>What the measurement suggests as a whole; null where it leaves the layout.</summary>
    private static string? Suggested(Measurement m)
    {
        if (m.Suggestion is not { } s || (s.AddAtMm is null && s.Moves.Count == 0))
            return null;
        string[] slides = [.. s.Moves.Where(v => v.CanBeMade).GroupBy(v => v.ToMm < v.FromMm).Select(Slides)];
        string add = s.AddAtMm is { } at ? string.Create(CultureInfo.InvariantCulture, $"One more guide, {at:0} mm from the tip") : "";
        string moves = slides.Length == 0 ? "" : $"{(add.Length > 0 ? ", and slide " : "Slide ")}{string.Join("; ", slides)}";
        return string.Create(CultureInfo.InvariantCulture, $"{add}{moves}: the largest running bow falls from {s.BowBeforeMm:0.0} to {s.BowAfterMm:0.0} mm.");
    }

    /// <summary>"guide 3 by 22, 4 by 20 mm towards the tip".</summary>
    private static string Slides(IGrouping<bool, MoveReport> way)
    {
        string[] each = [.. way.Select(v => string.Create(CultureInfo.InvariantCulture, $"{v.Guide} by {Math.Abs(v.ToMm - v.FromMm):0}"))];
        return $"{(each.Length == 1 ? "guide" : "guides")} {string.Join(", ", each)} mm towards the {(way.Key ? "tip" : "reel")}";
    }

    private static string Nothing(ClassRod rod, RodFigure bow) => rod.Photo.Measurement?.Suggestion?.Why
        ?? (rod.OverBest > ClassWords.AsGoodAsBest
            ? string.Create(CultureInfo.InvariantCulture, $"No single guide gains enough by itself; all running guides placed anew would take the largest bow from {bow.Mm:0.0} to {rod.BestBowMm:0.0} mm.")
            : "Nothing needs to be moved.");
}

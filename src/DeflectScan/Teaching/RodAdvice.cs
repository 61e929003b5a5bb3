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
        return new RodAdvice([.. Praise(rod, bow, moves.Count == 0).Take(MostGood)], [.. moves.Count > 0 ? moves.Select(Words) : [Nothing(rod, bow)]]);
    }

    private static IEnumerable<string> Praise(ClassRod rod, RodFigure bow, bool isLevel)
    {
        if (rod.KeepsTarget == true)
            yield return string.Create(CultureInfo.InvariantCulture, $"The largest running bow, {bow.Mm:0.0} mm, keeps the target of {rod.TargetMm:0.0} mm.");
        if (rod.OverBest <= ClassWords.AsGoodAsBest)
            yield return string.Create(CultureInfo.InvariantCulture, $"The spacing is near the best that {rod.Guides} guides can do on this blank: {bow.Mm:0.0} mm of bow where {rod.BestBowMm:0.0} mm is possible.");
        else if (isLevel)
            yield return "The running guides are level enough to leave where they are.";
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

    private static string Nothing(ClassRod rod, RodFigure bow) => rod.OverBest > ClassWords.AsGoodAsBest
        ? string.Create(CultureInfo.InvariantCulture, $"No single guide gains enough by itself; all running guides placed anew would take the largest bow from {bow.Mm:0.0} to {rod.BestBowMm:0.0} mm.")
        : "Nothing needs to be moved.";
}

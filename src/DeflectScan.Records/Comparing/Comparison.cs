using DeflectScan.Records.Model;

namespace DeflectScan.Records.Comparing;

/// <summary>A figure before and after.</summary>
/// <param name="BeforeMm">mm.</param>
/// <param name="AfterMm">mm.</param>
/// <param name="UncertaintyMm">Of the difference, 95 %: the root of the sum of both squares.</param>
public sealed record Change(double BeforeMm, double AfterMm, double UncertaintyMm)
{
    public double ByMm => AfterMm - BeforeMm;

    /// <summary>Whether it changed by more than the measurements leave open.</summary>
    public bool IsSure => Math.Abs(ByMm) > UncertaintyMm;

    public static Change Of(double before, double beforeUncertainty, double after, double afterUncertainty) =>
        new(before, after, Math.Sqrt((beforeUncertainty * beforeUncertainty) + (afterUncertainty * afterUncertainty)));
}

/// <summary>A pair of guides before and after; of a pair that is only in one of them the other's figures are null.</summary>
/// <param name="Before">The pair before.</param>
/// <param name="After">The pair after.</param>
public sealed record PairMatch(IntervalReport? Before, IntervalReport? After)
{
    public Change? Gap => Before is { } b && After is { } a ? Change.Of(b.GapMm, b.GapUncertaintyMm, a.GapMm, a.GapUncertaintyMm) : null;

    public Change? Bow => Before is { } b && After is { } a ? Change.Of(b.BowMm, b.BowUncertaintyMm, a.BowMm, a.BowUncertaintyMm) : null;
}

/// <summary>Two measurements of a build on one axis: stations from the tip are the same in both.</summary>
/// <param name="Before">The earlier one.</param>
/// <param name="After">The later one.</param>
/// <param name="Shape">How the two bends lie on each other.</param>
/// <param name="Guides">From the reel to the tip.</param>
/// <param name="Pairs">From the reel to the tip.</param>
/// <param name="LargestGap">The largest gap of each, wherever it is.</param>
/// <param name="LargestBow">The largest bow of each.</param>
/// <param name="Changes">What changed, a sentence each.</param>
public sealed record Comparison(
    Measurement Before,
    Measurement After,
    ShapeChange Shape,
    IReadOnlyList<GuideMatch> Guides,
    IReadOnlyList<PairMatch> Pairs,
    Change? LargestGap,
    Change? LargestBow,
    IReadOnlyList<string> Changes)
{
    /// <summary>The running pair before that follows worst; null where there is none.</summary>
    public WorstPair? WorstBefore { get; init; }

    /// <summary>The one after.</summary>
    public WorstPair? WorstAfter { get; init; }

    /// <summary>Their bow inside the bend, their clearance outside; null where the sides differ or one has no such pair.</summary>
    public Change? FollowsWorst =>
        WorstBefore is { } b && WorstAfter is { } a && b.ByClearance == a.ByClearance ? Change.Of(b.Mm, b.UncertaintyMm, a.Mm, a.UncertaintyMm) : null;

    /// <summary>The largest gap among the pairs that only one of both has: what was done there. Null where all pairs are the same ones.</summary>
    public Change? ReplacedGap =>
        Pairs.Where(p => p.After is null).Select(p => p.Before!).MaxBy(i => i.GapMm) is { } b && Pairs.Where(p => p.Before is null).Select(p => p.After!).MaxBy(i => i.GapMm) is { } a
            ? Change.Of(b.GapMm, b.GapUncertaintyMm, a.GapMm, a.GapUncertaintyMm)
            : null;

    /// <summary>Compares two measurements.</summary>
    /// <exception cref="ArchiveException">One of them is refused: it has no axis.</exception>
    public static Comparison Of(Measurement before, Measurement after)
    {
        if (before.Blank is not { Axis.Count: >= 3 } || after.Blank is not { Axis.Count: >= 3 })
            throw new ArchiveException(ArchiveProblem.Refused, "Both measurements must have figures to be compared.");
        IReadOnlyList<GuideMatch> guides = GuideMatcher.Match(before.Guides, after.Guides);
        Comparison c = new(
            before, after, ShapeChange.Of(before.Blank, after.Blank), guides, PairsOf(before, after, guides),
            Largest(before, after, m => m.Intervals.MaxBy(i => i.GapMm), i => (i.GapMm, i.GapUncertaintyMm)),
            Largest(before, after, m => m.Intervals.MaxBy(i => i.BowMm), i => (i.BowMm, i.BowUncertaintyMm)),
            [])
        {
            WorstBefore = WorstPair.Of(before), WorstAfter = WorstPair.Of(after),
        };
        return c with { Changes = [.. ChangeWords.Of(c)] };
    }

    private static List<PairMatch> PairsOf(Measurement before, Measurement after, IReadOnlyList<GuideMatch> guides)
    {
        Dictionary<int, int> toAfter = guides.Where(g => g is { Before: not null, After: not null }).ToDictionary(g => g.Before!.Value, g => g.After!.Value);
        List<PairMatch> pairs = [];
        List<IntervalReport> rest = [.. after.Intervals];
        foreach (IntervalReport b in before.Intervals)
        {
            IntervalReport? a = toAfter.TryGetValue(b.From, out int from) && toAfter.TryGetValue(b.To, out int to) ? rest.Find(i => (i.From, i.To) == (from, to)) : null;
            if (a is not null)
                rest.Remove(a);
            pairs.Add(new PairMatch(b, a));
        }

        pairs.AddRange(rest.Select(a => new PairMatch(null, a)));
        double Place(PairMatch p) => p.Before is { } b ? before.Guides[b.From - 1].StationMm : after.Guides[p.After!.From - 1].StationMm;
        return [.. pairs.OrderByDescending(Place).ThenBy(p => p.Before is null)];
    }

    private static Change? Largest(Measurement before, Measurement after, Func<Measurement, IntervalReport?> pick, Func<IntervalReport, (double, double)> value)
    {
        if (pick(before) is not { } b || pick(after) is not { } a)
            return null;
        ((double bv, double bu), (double av, double au)) = (value(b), value(a));
        return Change.Of(bv, bu, av, au);
    }
}

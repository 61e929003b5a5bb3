using DeflectScan.Geometry;
using DeflectScan.Records.Model;

namespace DeflectScan.Records.Comparing;

/// <summary>A figure before and after.</summary>
/// <param name="BeforeMm">mm.</param>
/// <param name="AfterMm">mm.</param>
/// <param name="UncertaintyMm">Of the difference, 95 %: the root of the sum of both squares, in a series of what they do not share (<see cref="SharedStand"/>).</param>
public sealed record Change(double BeforeMm, double AfterMm, double UncertaintyMm)
{
    public double ByMm => AfterMm - BeforeMm;

    /// <summary>Whether it changed by more than the measurements leave open.</summary>
    public bool IsSure => Math.Abs(ByMm) > UncertaintyMm;

    public static Change Of(MeasuredLength before, MeasuredLength after) =>
        new(before.Mm, after.Mm, Math.Sqrt((before.UncertaintyMm * before.UncertaintyMm) + (after.UncertaintyMm * after.UncertaintyMm)));
}

/// <summary>A pair of guides before and after; of a pair that is only in one of them the other's figures are null.</summary>
/// <param name="Before">The pair before.</param>
/// <param name="After">The pair after.</param>
public sealed record PairMatch(IntervalReport? Before, IntervalReport? After)
{
    /// <summary>What both photos share; null where they are not of one stand.</summary>
    public SharedStand? Stand { get; init; }

    /// <summary>In a series: both its guides stand where they stood.</summary>
    public bool IsStill { get; init; }

    public Change? Gap => Of(i => i.Gap, s => s.GapMm);

    public Change? Bow => Of(i => i.Bow, s => s.BowMm);

    public Change? Clearance => Of(i => i.Clearance, s => s.ClearanceMm);

    private Change? Of(Func<IntervalReport, MeasuredLength> figure, Func<SeenPart, double> seen)
    {
        if (Before is not { } b || After is not { } a)
            return null;
        (MeasuredLength was, MeasuredLength now) = (figure(b), figure(a));
        return Stand is { } stand && b.Seen is { } bs && a.Seen is { } asSeen
            ? new Change(was.Mm, now.Mm, stand.OfDifference(seen(bs), seen(asSeen), now.Mm - was.Mm, IsStill))
            : Change.Of(was, now);
    }
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
    /// <summary>What both photos share; null where they are not of one stand.</summary>
    public SharedStand? Stand { get; init; }

    /// <summary>The running pair before that follows worst; null where there is none.</summary>
    public WorstPair? WorstBefore { get; init; }

    /// <summary>The one after.</summary>
    public WorstPair? WorstAfter { get; init; }

    /// <summary>Their bow inside the bend, their clearance outside; null where the sides differ or one has no such pair.</summary>
    public Change? FollowsWorst =>
        WorstBefore is not { } b || WorstAfter is not { } a || b.ByClearance != a.ByClearance ? null
        : Same(b.From, a.From) is { } pair ? (b.ByClearance ? pair.Clearance : pair.Bow)
        : Change.Of(new(b.Mm, b.UncertaintyMm), new(a.Mm, a.UncertaintyMm));

    /// <summary>The largest gap among the pairs that only one of both has: what was done there. Null where all pairs are the same ones.</summary>
    public Change? ReplacedGap =>
        Pairs.Where(p => p.After is null).Select(p => p.Before!).MaxBy(i => i.GapMm) is { } b && Pairs.Where(p => p.Before is null).Select(p => p.After!).MaxBy(i => i.GapMm) is { } a
            ? Change.Of(b.Gap, a.Gap)
            : null;

    /// <summary>Compares two measurements.</summary>
    /// <exception cref="ArchiveException">One of them is refused: it has no axis.</exception>
    public static Comparison Of(Measurement before, Measurement after)
    {
        if (before.Blank is not { Axis.Count: >= 3 } || after.Blank is not { Axis.Count: >= 3 })
            throw new ArchiveException(ArchiveProblem.Refused, "Both measurements must have figures to be compared.");
        SharedStand? stand = SharedStand.Of(before, after);
        IReadOnlyList<GuideMatch> guides = GuideMatcher.Match(before.Guides, after.Guides, stand);
        List<PairMatch> pairs = PairsOf(before, after, guides, stand);
        Comparison c = new(
            before, after, ShapeChange.Of(before.Blank, after.Blank), guides, pairs,
            Largest(before, after, m => m.Intervals.MaxBy(i => i.GapMm), i => i.Gap),
            Largest(before, after, m => m.Intervals.MaxBy(i => i.BowMm), i => i.Bow),
            [])
        {
            Stand = stand, WorstBefore = WorstPair.Of(before), WorstAfter = WorstPair.Of(after),
        };
        c = c with { LargestGap = OfPair(pairs, c.LargestGap, p => p.Gap), LargestBow = OfPair(pairs, c.LargestBow, p => p.Bow) };
        return c with { Changes = [.. ChangeWords.Of(c)] };
    }

    /// <summary>The pair that is this one before and that one after.</summary>
    private PairMatch? Same(int before, int after) => Pairs.FirstOrDefault(p => p.Before?.From == before && p.After?.From == after);

    /// <summary>Where both figures are of one and the same pair, that pair's own change, which knows what both photos share.</summary>
    private static Change? OfPair(List<PairMatch> pairs, Change? largest, Func<PairMatch, Change?> figure) =>
        pairs.Select(figure).FirstOrDefault(own => largest is not null && own is not null && (own.BeforeMm, own.AfterMm) == (largest.BeforeMm, largest.AfterMm)) ?? largest;

    private static List<PairMatch> PairsOf(Measurement before, Measurement after, IReadOnlyList<GuideMatch> guides, SharedStand? stand)
    {
        HashSet<int> touched = [.. guides.Where(g => g.WasTouched).Select(g => g.After!.Value)];
        Dictionary<int, int> toAfter = guides.Where(g => g is { Before: not null, After: not null }).ToDictionary(g => g.Before!.Value, g => g.After!.Value);
        List<PairMatch> pairs = [];
        List<IntervalReport> rest = [.. after.Intervals];
        foreach (IntervalReport b in before.Intervals)
        {
            IntervalReport? a = toAfter.TryGetValue(b.From, out int from) && toAfter.TryGetValue(b.To, out int to) ? rest.Find(i => (i.From, i.To) == (from, to)) : null;
            if (a is not null)
                rest.Remove(a);
            pairs.Add(new PairMatch(b, a) { Stand = stand, IsStill = a is not null && !touched.Contains(a.From) && !touched.Contains(a.To) });
        }

        pairs.AddRange(rest.Select(a => new PairMatch(null, a)));
        double Place(PairMatch p) => p.Before is { } b ? before.Guides[b.From - 1].StationMm : after.Guides[p.After!.From - 1].StationMm;
        return [.. pairs.OrderByDescending(Place).ThenBy(p => p.Before is null)];
    }

    private static Change? Largest(Measurement before, Measurement after, Func<Measurement, IntervalReport?> pick, Func<IntervalReport, MeasuredLength> value) =>
        pick(before) is { } b && pick(after) is { } a ? Change.Of(value(b), value(a)) : null;
}

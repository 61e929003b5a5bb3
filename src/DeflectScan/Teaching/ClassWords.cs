using System.Globalization;

namespace DeflectScan.Teaching;

/// <summary>What stands out in a class, in sentences. Lengths in mm; a difference that the figures leave open is not said to be one.</summary>
internal static class ClassWords
{
    /// <summary>Share of the rods that must have it for "most" (judgement).</summary>
    private const double Most = 0.5;

    /// <summary>Over the best possible bow by less than this is as good as it gets: what the suggestion does not think worth moving (judgement).</summary>
    public const double AsGoodAsBest = 1.2;

    public static IEnumerable<string> Of(IReadOnlyList<ClassRod> rods, ClassOptions options, MeanLayout? mean)
    {
        ClassRod[] sure = [.. rods.Where(r => r is { Standing: RodStanding.Measured, Bow: not null })];
        yield return Count(rods);
        if (sure.Length > 0)
            yield return BestAndWorst([.. sure.OrderBy(r => r.Bow!.Mm)]);
        if (Target(sure, options) is { } target)
            yield return target;
        if (AgainstBest(sure) is { } best)
            yield return best;
        if (WhereWorst(sure) is { } where)
            yield return where;
        if (sure.Where(r => r.Touches).ToArray() is { Length: > 0 } touching)
            yield return $"The line touches the blank on {List(touching)}.";
        if (GuideCounts([.. sure.Where(r => r.Guides is not null)]) is { } counts)
            yield return counts;
        if (mean is not null)
            yield return Spread(mean);
        foreach (IReadOnlyList<int> group in SamePhotos.Of(rods))
            yield return $"The same photo was sent by {string.Join(" and ", group.Select(i => rods[i].Name))}: it counts for each of them here, and one of them should send another.";
    }

    private static string Count(IReadOnlyList<ClassRod> rods)
    {
        int measured = rods.Count(r => r.Standing == RodStanding.Measured);
        ClassRod[] look = [.. rods.Where(r => r.Standing == RodStanding.LookFirst)];
        ClassRod[] none = [.. rods.Where(r => r.Standing == RodStanding.NoFigures)];
        string text = $"{rods.Count} {(rods.Count == 1 ? "rod" : "rods")}, {measured} measured.";
        if (look.Length > 0)
            text += $" To be looked at first, and left out of what is said here: {List(look)}.";
        if (none.Length > 0)
            text += $" Without figures: {List(none)}.";
        return text;
    }

    private static string BestAndWorst(ClassRod[] byBow)
    {
        ClassRod[] first = [.. byBow.TakeWhile(r => IsAlike(r.Bow!, byBow[0].Bow!))];
        RodFigure least = byBow[0].Bow!, most = byBow[^1].Bow!;
        string best = first.Length == 1
            ? $"{byBow[0].Name} follows the bend best: largest running bow {Figure(least)}."
            : $"{List(first)} follow the bend best, alike within what the figures leave open: largest running bow from {least.Mm:0.0} to {first[^1].Bow!.Mm:0.0} mm.";
        if (byBow.Length == first.Length)
            return best;
        string times = most.Mm > 1.5 * least.Mm && least.Mm > 0.5 ? $", {most.Mm / least.Mm:0.0} times as much" : "";
        return $"{best} {byBow[^1].Name} leaves the most: {Figure(most)} between {Pair(byBow[^1])}{times}.";
    }

    private static string? Target(ClassRod[] sure, ClassOptions options)
    {
        ClassRod[] asked = [.. sure.Where(r => r.TargetMm is not null)];
        if (asked.Length == 0 || options.TargetIsBest)
            return null;
        ClassRod[] open = [.. asked.Where(r => r.KeepsTarget is null)];
        ClassRod[] over = [.. asked.Where(r => r.KeepsTarget == false)];
        string text = string.Create(CultureInfo.InvariantCulture, $"{asked.Count(r => r.KeepsTarget == true)} of {asked.Length} keep the target of {options.TargetBowMm:0.0} mm.");
        if (over.Length > 0)
            text += $" Above it: {List(over)}.";
        if (open.Length > 0)
            text += $" At it, and which side is not sure: {List(open)}.";
        return text;
    }

    private static string? AgainstBest(ClassRod[] sure)
    {
        ClassRod[] known = [.. sure.Where(r => r.OverBest is not null).OrderBy(r => r.OverBest)];
        if (known.Length == 0)
            return null;
        ClassRod[] there = [.. known.Where(r => r.OverBest <= AsGoodAsBest)];
        string near = there.Length == 0 ? "No rod is yet near the best that its guides could do on its blank" : $"Near the best that so many guides can do on the blank: {List(there)}";
        ClassRod far = known[^1];
        return far.OverBest <= AsGoodAsBest ? $"{near}."
            : string.Create(CultureInfo.InvariantCulture, $"{near}. Most is to be gained on {far.Name}: {far.Bow!.Mm:0.0} mm could be {far.BestBowMm:0.0} mm with the same guides.");
    }

    private static string? WhereWorst(ClassRod[] sure)
    {
        if (sure.Length < 3)
            return null;
        IGrouping<string, ClassRod> pair = sure.GroupBy(Pair, StringComparer.Ordinal).MaxBy(g => g.Count())!;
        return pair.Count() > Most * sure.Length ? $"On {pair.Count()} of {sure.Length} rods the largest running bow is between {pair.Key}." : null;
    }

    private static string? GuideCounts(ClassRod[] known)
    {
        if (known.Length < 2 || known.Select(r => r.Guides).Distinct().Count() == 1)
            return null;
        IGrouping<int?, ClassRod> usual = known.GroupBy(r => r.Guides).OrderByDescending(g => g.Count()).ThenBy(g => g.Key).First();
        string others = string.Join(", ", known.Where(r => r.Guides != usual.Key).OrderBy(r => r.Guides).Select(r => $"{r.Name} {r.Guides}"));
        return usual.Count() > 1 ? $"{usual.Count()} rods have {usual.Key} guides; {others}." : $"Guides: {string.Join(", ", known.OrderBy(r => r.Guides).Select(r => $"{r.Name} {r.Guides}"))}.";
    }

    private static string Spread(MeanLayout mean)
    {
        string text = $"Mean layout of {mean.Rods} {(mean.Rods == 1 ? "rod" : "rods")} with {mean.Guides} guides";
        (double? widest, int at) = mean.SpreadsMm.Select((s, i) => (s, i)).SkipLast(1).MaxBy(s => s.s ?? 0);
        return widest is { } mm
            ? string.Create(CultureInfo.InvariantCulture, $"{text}: the students differ most at guide {at + 1}, by {mm:0} mm (standard deviation) about {mean.StationsMm[at]:0} mm from the tip.")
            : $"{text}: two or more are needed to say how far the students differ.";
    }

    /// <summary>Two independent figures (JCGM 100): their difference is within its expanded uncertainty.</summary>
    private static bool IsAlike(RodFigure a, RodFigure b) =>
        Math.Abs(a.Mm - b.Mm) <= Math.Sqrt((a.UncertaintyMm * a.UncertaintyMm) + (b.UncertaintyMm * b.UncertaintyMm));

    private static string Pair(ClassRod r) => $"{(IsTip(r) ? "guide" : "guides")} {r.Bow!.From} and {(IsTip(r) ? "the tip-top" : $"{r.Bow.To}")}";

    private static bool IsTip(ClassRod r) => r.Strip!.Rings[r.Bow!.To - 1].IsTip;

    private static string Figure(RodFigure f) => Geometry.UnitsInSentences.Figure(new(f.Mm, f.UncertaintyMm), Geometry.LengthUnit.Millimetres);

    private static string List(IReadOnlyList<ClassRod> rods) => rods.Count switch
    {
        1 => rods[0].Name,
        <= 8 => $"{string.Join(", ", rods.SkipLast(1).Select(r => r.Name))} and {rods[^1].Name}",
        _ => $"{string.Join(", ", rods.Take(7).Select(r => r.Name))} and {rods.Count - 7} more",
    };
}

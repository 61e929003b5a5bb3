namespace DeflectScan.Teaching;

/// <summary>Puts a class side by side, from measurement documents alone.</summary>
public static class ClassRule
{
    /// <summary>The class from what its students sent.</summary>
    /// <param name="photos">One a student.</param>
    /// <param name="options">How it is looked at.</param>
    /// <param name="reference">The instructor's own rod; null for none.</param>
    public static ClassReport Make(IReadOnlyList<ClassPhoto> photos, ClassOptions options, ClassPhoto? reference = null) =>
        Of([.. photos.Select(RodReading.Of)], options, reference is null ? null : RodReading.Of(reference));

    /// <summary>The class from rods that were read before.</summary>
    public static ClassReport Of(IReadOnlyList<ClassRod> rods, ClassOptions options, ClassRod? reference)
    {
        ClassRod[] named = [.. Named(rods, options.HideNames).Select(r => r with { TargetMm = options.TargetIsBest ? r.BestBowMm : options.TargetBowMm })];
        ClassRod[] sorted = Sorted(named, options.Order);
        MeanLayout? mean = options.IsSameBlank ? Mean(sorted) : null;
        return new ClassReport(options, sorted, reference, mean, [.. ClassWords.Of(sorted, options, mean)]);
    }

    private static IEnumerable<ClassRod> Named(IReadOnlyList<ClassRod> rods, bool hide)
    {
        if (!hide)
            return rods;
        int[] order = [.. Enumerable.Range(0, rods.Count).OrderBy(i => rods[i].Photo.Measurement?.Photo?.Sha256 ?? "~", StringComparer.Ordinal).ThenBy(i => i)];
        return rods.Select((r, i) => r with { Name = $"Rod {Array.IndexOf(order, i) + 1}" });
    }

    private static ClassRod[] Sorted(ClassRod[] rods, ClassOrder order)
    {
        double Last(double? value) => value ?? double.PositiveInfinity;
        IOrderedEnumerable<ClassRod> byStanding = rods.OrderBy(r => order is ClassOrder.Given or ClassOrder.Name ? 0 : r.Standing == RodStanding.NoFigures ? 1 : 0);
        return order switch
        {
            ClassOrder.Given => rods,
            ClassOrder.Bow => [.. byStanding.ThenBy(r => Last(r.Bow?.Mm)).ThenBy(r => r.Name, Naming)],
            ClassOrder.Gap => [.. byStanding.ThenBy(r => Last(r.Gap?.Mm)).ThenBy(r => r.Name, Naming)],
            ClassOrder.Clearance => [.. byStanding.ThenBy(r => Last(-r.Clearance?.Mm)).ThenBy(r => r.Name, Naming)],
            ClassOrder.Guides => [.. byStanding.ThenBy(r => Last(r.Guides)).ThenBy(r => Last(r.Bow?.Mm)).ThenBy(r => r.Name, Naming)],
            ClassOrder.Best => [.. byStanding.ThenBy(r => Last(r.OverBest)).ThenBy(r => r.Name, Naming)],
            _ => [.. byStanding.ThenBy(r => r.Name, Naming)],
        };
    }

    /// <summary>"Rod 2" before "Rod 10".</summary>
    private static Comparer<string> Naming { get; } = Comparer<string>.Create((a, b) =>
    {
        (string wordsA, int numberA) = Split(a);
        (string wordsB, int numberB) = Split(b);
        int byWords = StringComparer.OrdinalIgnoreCase.Compare(wordsA, wordsB);
        return byWords != 0 ? byWords : numberA.CompareTo(numberB);
    });

    private static (string Words, int Number) Split(string name)
    {
        int digits = name.Length - name.TrimEnd('0', '1', '2', '3', '4', '5', '6', '7', '8', '9').Length;
        return digits is > 0 and < 9 ? (name[..^digits], int.Parse(name[^digits..], System.Globalization.CultureInfo.InvariantCulture)) : (name, -1);
    }

    /// <summary>The mean over measured rods with as many guides as most of them have, on the side that most have them.</summary>
    private static MeanLayout? Mean(IReadOnlyList<ClassRod> rods)
    {
        ClassRod[]? alike = rods.Where(r => r is { Standing: RodStanding.Measured, Guides: not null, Strip: not null })
            .GroupBy(r => (r.Guides, r.IsOutside)).OrderByDescending(g => g.Count()).ThenBy(g => g.Key.Guides).FirstOrDefault()?.ToArray();
        if (alike is not { Length: > 0 })
            return null;
        double[][] stations = [.. Enumerable.Range(0, alike[0].Strip!.Rings.Count).Select(i => alike.Select(r => r.Strip!.Rings[i].StationMm).ToArray())];
        return new MeanLayout(
            alike[0].Guides!.Value,
            alike.Length,
            [.. stations.Select(s => s.Average())],
            [.. stations.Select(s => s.Length < 2 ? (double?)null : Math.Sqrt(s.Sum(v => (v - s.Average()) * (v - s.Average())) / (s.Length - 1)))],
            [.. Enumerable.Range(0, stations.Length - 1).Select(i => alike.Average(r => r.Strip!.Pairs[i].BowMm))]);
    }
}

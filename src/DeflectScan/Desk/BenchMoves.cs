namespace DeflectScan.Desk;

/// <summary>What is done with one guide at the bench.</summary>
public enum BenchAct
{
    /// <summary>Taken off the blank.</summary>
    TakeOff,

    /// <summary>Slid to another station.</summary>
    Slide,

    /// <summary>A guide more.</summary>
    Add,
}

/// <summary>One thing to do at the bench.</summary>
/// <param name="Act">What.</param>
/// <param name="Guide">The guide's number as measured; null for a guide that was not there.</param>
/// <param name="Becomes">Its number in the layout then; null for one that is taken off.</param>
/// <param name="FromMm">Where it stands, from the tip; null for a guide that was not there.</param>
/// <param name="ToMm">Where it goes, from the tip; null for one that is taken off.</param>
public sealed record BenchMove(BenchAct Act, int? Guide, int? Becomes, double? FromMm, double? ToMm);

/// <summary>
/// The way from the measured layout to another one in the order in which a person makes it: what comes off first, then each guide slid when nothing stands in
/// its way, as near to the tip as can be, the added ones last, since the line must be threaded anew for them.
/// </summary>
public static class BenchMoves
{
    /// <param name="rod">The rod as measured.</param>
    /// <param name="after">The layout to come to; its guides name those of the rod that they are.</param>
    public static IReadOnlyList<BenchMove> Of(MeasuredLayout rod, JudgedLayout after)
    {
        double StationOf(int guide) => rod.Rings[guide - 1].StationMm;
        HashSet<int> kept = [.. after.Guides.Select(g => g.MeasuredAs).OfType<int>()];
        BenchMove[] off = [.. Enumerable.Range(1, rod.Rings.Count).Where(i => !kept.Contains(i)).Reverse().Select(i => new BenchMove(BenchAct.TakeOff, i, null, StationOf(i), null))];
        BenchMove[] slides =
        [
            .. after.Guides.Where(g => g.MeasuredAs is { } was && g.StationMm != StationOf(was))
                .Select(g => new BenchMove(BenchAct.Slide, g.MeasuredAs, g.Guide, StationOf(g.MeasuredAs!.Value), g.StationMm)).OrderBy(m => m.FromMm),
        ];
        BenchMove[] added = [.. after.Guides.Where(g => g.MeasuredAs is null).OrderBy(g => g.StationMm).Select(g => new BenchMove(BenchAct.Add, null, g.Guide, null, g.StationMm))];
        return [.. off, .. Ordered(slides, kept.ToDictionary(i => i, StationOf)), .. added];
    }

    /// <summary>Each time the first, from the tip, whose way is free; where none is (guides that change places), the first of all.</summary>
    private static IEnumerable<BenchMove> Ordered(IEnumerable<BenchMove> slides, Dictionary<int, double> standing)
    {
        List<BenchMove> left = [.. slides];
        while (left.Count > 0)
        {
            BenchMove next = left.Find(IsFree) ?? left[0];
            left.Remove(next);
            standing[next.Guide!.Value] = next.ToMm!.Value;
            yield return next;
        }

        bool IsFree(BenchMove m) =>
            standing.All(s => s.Key == m.Guide || s.Value < Math.Min(m.FromMm!.Value, m.ToMm!.Value) || s.Value > Math.Max(m.FromMm!.Value, m.ToMm!.Value));
    }
}

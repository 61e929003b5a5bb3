using DeflectScan.Numerics;

namespace DeflectScan.Records.Comparing;

/// <summary>A guide before and after: the same one moved or not, one that is gone, or one that is new. Stations from the tip in mm.</summary>
/// <param name="Before">Its number before; null: it is new.</param>
/// <param name="After">Its number after; null: it is gone.</param>
/// <param name="BeforeMm">Station before.</param>
/// <param name="AfterMm">Station after.</param>
/// <param name="UncertaintyMm">Of the difference, 95 %.</param>
public sealed record GuideMatch(int? Before, int? After, double? BeforeMm, double? AfterMm, double? UncertaintyMm)
{
    /// <summary>How far it moved toward the reel; null for one that is new or gone.</summary>
    public double? MovedMm => AfterMm - BeforeMm;

    /// <summary>In a series: it does not stand where it stood, so that what is said of its pairs is seen anew.</summary>
    public bool WasTouched { get; init; }

    /// <summary>In a series: how much farther than its uncertainty it must have moved so that of all its guides none is said to have moved by chance, 95 %.</summary>
    internal double Among { get; init; } = 1;

    /// <summary>Whether it moved by more than the measurements leave open.</summary>
    public bool HasMoved => MovedMm is { } moved && Math.Abs(moved) > Among * UncertaintyMm;
}

/// <summary>
/// Finds which guide is which: the pairing in order from the reel to the tip with the least sum of moves, where a guide taken away or added counts as
/// a move of <see cref="NewOrGoneMm"/>. By dynamic programming, as sequences are aligned.
/// </summary>
internal static class GuideMatcher
{
    /// <summary>mm; two guides farther apart than twice this are not taken for one that was moved.</summary>
    public const double NewOrGoneMm = 60;

    public static IReadOnlyList<GuideMatch> Match(IReadOnlyList<GuideReport> before, IReadOnlyList<GuideReport> after, SharedStand? stand = null)
    {
        double[,] cost = new double[before.Count + 1, after.Count + 1];
        for (int i = before.Count; i >= 0; i--)
        {
            for (int j = after.Count; j >= 0; j--)
            {
                cost[i, j] = (i < before.Count, j < after.Count) switch
                {
                    (false, false) => 0,
                    (true, false) => cost[i + 1, j] + NewOrGoneMm,
                    (false, true) => cost[i, j + 1] + NewOrGoneMm,
                    _ => Math.Min(Same(i, j), NewOrGoneMm + Math.Min(cost[i + 1, j], cost[i, j + 1])),
                };
            }
        }

        List<GuideMatch> matches = [];
        for ((int i, int j) = (0, 0); i < before.Count || j < after.Count;)
        {
            if (i < before.Count && j < after.Count && cost[i, j] == Same(i, j))
                matches.Add(Both(before[i++], after[j++], stand, before.Count));
            else if (i < before.Count && cost[i, j] == cost[i + 1, j] + NewOrGoneMm)
                matches.Add(new GuideMatch(before[i].Index, null, before[i++].StationMm, null, null));
            else
                matches.Add(new GuideMatch(null, after[j].Index, null, after[j++].StationMm, null));
        }

        return matches;

        double Same(int i, int j) => before[i].IsTip == after[j].IsTip ? Math.Abs(before[i].StationMm - after[j].StationMm) + cost[i + 1, j + 1] : double.PositiveInfinity;
    }

    private static GuideMatch Both(GuideReport before, GuideReport after, SharedStand? stand, int count)
    {
        double by = after.StationMm - before.StationMm;
        if (stand is null || before.StationSeenMm is not { } b || after.StationSeenMm is not { } a)
            return Made(Math.Sqrt((before.Station.UncertaintyMm * before.Station.UncertaintyMm) + (after.Station.UncertaintyMm * after.Station.UncertaintyMm)));
        GuideMatch still = Made(stand.OfDifference(b, a, by, isStill: true));

        // A guide that was slid is seen anew, before another piece of wall.
        return still.HasMoved ? Made(stand.OfDifference(b, a, by, isStill: false)) with { WasTouched = true } : still;

        GuideMatch Made(double uncertainty) => new(before.Index, after.Index, before.StationMm, after.StationMm, uncertainty) { Among = stand is null ? 1 : NormalLaw.Together(count) };
    }
}

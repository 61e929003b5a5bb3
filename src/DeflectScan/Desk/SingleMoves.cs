using DeflectScan.Layout;

namespace DeflectScan.Desk;

/// <summary>One guide slid along the blank, everything else left where it stands. Stations from the tip, mm.</summary>
/// <param name="Guide">As measured, counted from 1 at the reel.</param>
/// <param name="FromMm">Where it stands.</param>
/// <param name="ToMm">Where it goes.</param>
/// <param name="BowBeforeMm">Largest running bow before this move.</param>
/// <param name="BowAfterMm">Largest running bow after it.</param>
public sealed record SingleMove(int Guide, double FromMm, double ToMm, double BowBeforeMm, double BowAfterMm);

/// <summary>
/// The moves that gain most, one guide at a time: each time the running guide and the whole millimetre that make the largest running bow smallest, as long as a
/// move by itself is worth its work (<see cref="Layout.Suggesting.SuggestionOptions.IsWorth"/>). Found by trying them all, so that no other single move gains more.
/// </summary>
public static class SingleMoves
{
    /// <summary>Moves in the order in which they are made: the second is judged with the first one made.</summary>
    /// <param name="rod">The rod as measured.</param>
    /// <param name="most">How many at most.</param>
    public static IReadOnlyList<SingleMove> Best(MeasuredLayout rod, int most)
    {
        double[] stations = [.. rod.Rings.Select(r => r.StationMm)];
        int held = rod.Reduction;
        List<SingleMove> moves = [];
        while (moves.Count < most && BestOf(rod.Shape, stations, held, rod.Worth.Spacing.LeastSpacingMm) is { } move && rod.Worth.IsWorth(move.BowBeforeMm, move.BowAfterMm, 1))
        {
            moves.Add(move with { FromMm = rod.Rings[move.Guide - 1].StationMm });
            stations[move.Guide - 1] = move.ToMm;
        }

        // A guide that is moved twice is one move.
        return [.. moves.GroupBy(m => m.Guide).Select(g => g.First() with { ToMm = g.Last().ToMm, BowAfterMm = g.Last().BowAfterMm })];
    }

    private static SingleMove? BestOf(BlankShape shape, double[] stations, int held, double leastMm)
    {
        double[] bows = [.. Enumerable.Range(held - 1, stations.Length - held).Select(i => Bow(stations[i], stations[i + 1]))];
        double before = bows.Max();
        int grows = Growing(stations, held);
        SingleMove? best = null;
        for (int i = held; i < stations.Length - 1; i++)
        {
            double others = bows.Where((_, k) => k != i - held && k != i - held + 1).DefaultIfEmpty(0).Max();
            for (double s = Math.Ceiling(stations[i + 1] + leastMm); s <= stations[i - 1] - leastMm; s++)
            {
                double after = Math.Max(others, Math.Max(Bow(stations[i - 1], s), Bow(s, stations[i + 1])));
                if (after < (best?.BowAfterMm ?? before) && Growing([.. stations.Select((was, k) => k == i ? s : was)], held) <= grows)
                    best = new SingleMove(i + 1, stations[i], s, before, after);
            }
        }

        return best;

        double Bow(double reelward, double tipward) => IntervalRule.Bow(shape, tipward, reelward).Value;
    }

    /// <summary>How often a spacing is larger than the one before it, towards the tip: a move must not make a layout less even than builders lay it out.</summary>
    private static int Growing(double[] stations, int held) =>
        Enumerable.Range(held, Math.Max(0, stations.Length - 1 - held)).Count(i => stations[i] - stations[i + 1] > stations[i - 1] - stations[i] + 0.5);
}

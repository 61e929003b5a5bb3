using DeflectScan.Desk;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Desk;

/// <summary>The moves that gain most, on rods whose truth is known.</summary>
public class SingleMovesTests
{
    private static readonly MeasuredLayout Few = MeasuredLayout.Of(Spoiled("students-few", 1)).Value!;

    /// <summary>A rod of testimages with one running guide put where it does not belong; figures by the definition, from the truth's axis.</summary>
    private static Measurement Spoiled(string photo, int fromTip)
    {
        Measurement m = TruthDocument.Of(photo);
        MeasuredLayout rod = MeasuredLayout.Of(m).Value!;
        RingPoint[] rings = [.. rod.Rings];
        int i = rings.Length - 1 - fromTip;
        rings[i] = RingPoint.At(rod.Shape, Math.Round(rings[i].StationMm) + 60, rings[i].DistanceMm, rod.Side);
        IReadOnlyList<Interval> pairs = LayoutRule.Evaluate(rod.Shape, rings, rod.Side).Intervals;
        return m with
        {
            Guides = [.. m.Guides.Select((g, k) => g with { Station = g.Station with { Mm = rings[k].StationMm } })],
            Intervals = [.. m.Intervals.Select((p, k) => p with { Gap = p.Gap with { Mm = pairs[k].GapMm }, Bow = p.Bow with { Mm = pairs[k].BowMm }, ChordMm = pairs[k].ChordMm, ClearanceMm = pairs[k].ClearanceMm })],
            Running = null,
            Suggestion = null,
        };
    }

    private static double Largest(MeasuredLayout rod, Func<int, double> station)
    {
        RingPoint[] rings = [.. rod.Rings.Select((r, i) => RingPoint.At(rod.Shape, station(i), r.DistanceMm, rod.Side))];
        return LayoutRule.Evaluate(rod.Shape, rings, rod.Side).Intervals.Skip(rod.Reduction - 1).Max(p => p.BowMm);
    }

    /// <summary>Against trying every station by the rule that makes all figures.</summary>
    [Fact]
    public void NoOtherMoveOfOneGuideGainsMore()
    {
        SingleMove move = SingleMoves.Best(Few, 1).Single();
        Assert.Equal(Largest(Few, i => Few.Rings[i].StationMm), move.BowBeforeMm, 1e-3);
        Assert.Equal(Largest(Few, i => i == move.Guide - 1 ? move.ToMm : Few.Rings[i].StationMm), move.BowAfterMm, 1e-3);
        for (int guide = Few.Reduction; guide < Few.Rings.Count - 1; guide++)
        {
            for (double s = Math.Ceiling(Few.Rings[guide + 1].StationMm + 40); s <= Few.Rings[guide - 1].StationMm - 40; s += 3)
                Assert.True(Largest(Few, i => i == guide ? s : Few.Rings[i].StationMm) >= move.BowAfterMm - 1e-3, $"guide {guide + 1} at {s}");
        }
    }

    [Fact]
    public void AMoveTakesOffEnoughToBeWorthIt()
    {
        SingleMove move = SingleMoves.Best(Few, 1).Single();
        Assert.True(move.BowBeforeMm - move.BowAfterMm >= Math.Max(1, 0.2 * move.BowBeforeMm)); // the suggestion's own rule
        Assert.True(move.ToMm > Few.Rings[move.Guide].StationMm && move.ToMm < Few.Rings[move.Guide - 2].StationMm); // no guide is passed
    }

    [Fact]
    public void ALevelLayoutIsLeft() => Assert.Empty(SingleMoves.Best(MeasuredLayout.Of(TruthDocument.Of("loads-light")).Value!, 2));
}

using DeflectScan.Layout;
using DeflectScan.Layout.Guides;
using DeflectScan.Layout.Spacing;
using DeflectScan.Layout.Suggesting;
using DeflectScan.Numerics;

namespace DeflectScan.Desk;

/// <summary>The part of a measured rod that running guides share, and the rings that they have there.</summary>
internal sealed class RunningSpace
{
    private readonly MeasuredLayout _rod;
    private readonly GuideModel? _model;

    private RunningSpace(MeasuredLayout rod, SpacingRequest request, GuideTable? table)
    {
        _rod = rod;
        _model = request.RingSize is { } size ? table?.OfSize(size) : null;
        Held = HeldOf(rod, request);
        MassG = (_model ?? table?.Nearest(SeenOuterMm(rod, Held)))?.MassG;
        Options = request.Options with { Goal = request.LargestGapMm is null ? request.Options.Goal : SpacingGoal.Gap };
        Span = new RunningSpan(rod.Rings[Held - 1].StationMm, rod.Rings[^1].StationMm, rod.Side, DistanceMm);
    }

    /// <summary>Guides from the reel that stay.</summary>
    public int Held { get; }

    public SpacingOptions Options { get; }

    public RunningSpan Span { get; }

    public int FreeAsMeasured => _rod.Rings.Count - 1 - Held;

    /// <summary>Mass in g of one running guide: of the table's ring asked for, else of the one like the running guides as seen; null where not known.</summary>
    public double? MassG { get; }

    public static RunningSpace Of(MeasuredLayout rod, SpacingRequest request, GuideTable? table) => new(rod, request, table);

    /// <summary>Why there is no such space, as one sentence; null where there is.</summary>
    public static string? Problem(MeasuredLayout rod, SpacingRequest request, GuideTable? table)
    {
        int held = HeldOf(rod, request);
        if (request.Guides < held)
            return $"{held} guides stay where they are, so there must be at least as many in all: hold fewer guides.";
        if (request.RingSize is not { } size || table?.OfSize(size) is not null)
            return null;
        return table is null
            ? $"Ring size {size:0.#} needs a guide table that says how high it stands: give such a table."
            : $"The guide table has no ring size {size:0.#}.";
    }

    /// <summary>Why no number of guides keeps within a limit.</summary>
    public string WithinProblem(double limitMm)
    {
        RingPoint held = _rod.Rings[Held - 1];
        double least = held.DistanceMm - _rod.Shape.RadiusMm(held.StationMm);
        return Options.Goal == SpacingGoal.Gap && limitMm < least
            ? $"The gap at guide {Held} is {least:0.0} mm by its ring's height alone: allow a larger gap or hold fewer guides."
            : $"No number of guides keeps within {limitMm:0.0} mm: allow more, or a smaller spacing.";
    }

    /// <summary>The largest bow and gap of a plan's running intervals, and how sharply the line turns (the largest bow over chord), and the least clearance.</summary>
    public (double BowMm, double GapMm, double Steepest, double ClearanceMm) Largest(SpacingPlan plan)
    {
        IReadOnlyList<Interval> intervals = LayoutRule.Evaluate(_rod.Shape, [_rod.Rings[Held - 1], .. Placed(plan).Select(r => r.Point), _rod.Rings[^1]], _rod.Side).Intervals;
        return (intervals.Max(i => i.BowMm), intervals.Max(i => i.GapMm), intervals.Max(i => i.BowMm / Math.Max(i.ChordMm, 1e-9)), intervals.Min(i => i.ClearanceMm));
    }

    /// <summary>A plan with every figure: held guides as measured, running guides in order with the rings of this space.</summary>
    public JudgedLayout Judge(SpacingPlan plan)
    {
        IReadOnlyList<SuggestedRing> placed = Placed(plan);
        SuggestedRing[] all = [.. Enumerable.Range(0, Held).Select(Measured), .. placed, Measured(_rod.Rings.Count - 1)];
        return PredictedLayout.Judge(
            _rod,
            [
                .. all.Take(Held).Select(r => new PlannedRing(r, 0, OuterOf(r.Measured))),
                .. placed.Select(r => new PlannedRing(r, Open(r), _model?.RingSize ?? OuterOf(r.Measured))),
                new PlannedRing(all[^1], 0, OuterOf(all[^1].Measured)),
            ],
            Held);

        SuggestedRing Measured(int i) => new(i, _rod.Rings[i]);

        double Open(SuggestedRing ring) => !KeepsOwnRings ? AddedHeight.LeastMm : ring.Measured is null ? AddedHeight.OpenMm(ring, all) : AddedHeight.OfMovedMm(_rod, ring);

        double? OuterOf(int? i) => i is { } known ? _rod.Measurement.Guides[known].RingOuterMm : null;
    }

    // As everywhere where guides only move; where the gap is made small, or another ring is asked for, heights go by station.
    private bool KeepsOwnRings => _model is null && Options.Goal == SpacingGoal.Bow;

    private IReadOnlyList<SuggestedRing> Placed(SpacingPlan plan)
    {
        if (plan.StationsMm.Count < FreeAsMeasured)
            return [.. plan.StationsMm.Select(s => new SuggestedRing(null, Ring(s)))];
        SuggestedRing[] own = [.. Arrangement.Place(_rod.Shape, _rod.Rings, _rod.Side, Held - 1, plan.StationsMm).Skip(Held).SkipLast(1)];
        return KeepsOwnRings ? own : [.. own.Select(r => r with { Point = Ring(r.Point.StationMm) })];
    }

    private RingPoint Ring(double stationMm) => RingPoint.At(_rod.Shape, stationMm, DistanceMm(stationMm), _rod.Side);

    /// <summary>
    /// A ring's distance from the axis by station: both ends as measured; between them the table's guide, else running guides as measured, from one to the
    /// next in proportion; with none measured, from the held guide to the tip-top in proportion.
    /// </summary>
    private double DistanceMm(double stationMm)
    {
        (RingPoint held, RingPoint tip) = (_rod.Rings[Held - 1], _rod.Rings[^1]);
        if (stationMm >= held.StationMm - 1e-9)
            return held.DistanceMm;
        if (stationMm <= tip.StationMm + 1e-9)
            return tip.DistanceMm;
        if (_model is not null)
            return _model.ContactDistanceMm(_rod.Shape.RadiusMm(stationMm), _rod.Side);
        RingPoint[] known = FreeAsMeasured > 0 ? [.. _rod.Rings.Skip(Held).SkipLast(1)] : [held, tip];
        int i = Array.FindIndex(known, r => r.StationMm <= stationMm);
        if (i <= 0)
            return i < 0 ? known[^1].DistanceMm : known[0].DistanceMm;
        double t = (stationMm - known[i].StationMm) / (known[i - 1].StationMm - known[i].StationMm);
        return known[i].DistanceMm + (t * (known[i - 1].DistanceMm - known[i].DistanceMm));
    }

    private static int HeldOf(MeasuredLayout rod, SpacingRequest request) =>
        request.Hold is { } told ? RunningPairs.Reduction(rod.Side, rod.Rings.Count, told) : rod.Reduction;

    /// <summary>The middle one of the running rings' outer diameters in mm as seen; NaN where none was.</summary>
    private static double SeenOuterMm(MeasuredLayout rod, int held) =>
        OrderStatistics.Middle(rod.Measurement.Guides.Skip(held).SkipLast(1).Select(g => g.RingOuterMm).OfType<double>(), none: double.NaN);
}

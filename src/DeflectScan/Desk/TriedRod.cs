using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Tracing;

namespace DeflectScan.Desk;

/// <summary>The measured rod with another layout on it, for what is computed from a rod as it stands: its bends at other loads.</summary>
public static class TriedRod
{
    /// <summary>The same blank and the judged layout's rings, pairs and their uncertainties in place of the measured ones.</summary>
    /// <param name="rod">The rod as measured.</param>
    /// <param name="layout">A layout judged on it.</param>
    public static MeasuredLayout Of(MeasuredLayout rod, JudgedLayout layout)
    {
        Measurement m = rod.Measurement;
        IntervalReport[] pairs =
        [
            .. layout.Pairs.Select(p => new IntervalReport(
                p.From, p.To, p.ChordMm, new(p.GapMm, p.GapUncertaintyMm), p.GapAtMm, new(p.BowMm, p.BowUncertaintyMm), p.BowAtMm, p.ClearanceMm, p.ClearanceAtMm, p.TouchesBlank, Source.Inferred)),
        ];
        return rod with
        {
            Rings = [.. layout.Guides.Select(g => RingPoint.At(rod.Shape, g.StationMm, g.HeightMm, rod.Side))],
            LineFromMm = layout.Guides[0].LineAngleDeg is null ? null : rod.LineFromMm,
            Measurement = m with
            {
                Guides = [.. layout.Guides.Select(g => GuideOf(m, g))],
                Intervals = pairs,
                Running = RunningReport.Of(pairs, m.Side!.Value, layout.ReductionGuides),
                Suggestion = null,
            },
        };
    }

    private static GuideReport GuideOf(Measurement m, JudgedGuide g) => new(
        g.Guide, g.IsTip, new(g.StationMm, g.MeasuredAs is { } was ? m.Guides[was - 1].Station.UncertaintyMm : PredictedLayout.WrappedWithinMm), g.FromReelMm, g.RingPx,
        new(g.HeightMm, g.HeightUncertaintyMm), g.RingOuterMm, g.LineAngleDeg, Source.Inferred);
}

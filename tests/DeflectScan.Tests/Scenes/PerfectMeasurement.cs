using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Scenes;
using DeflectScan.Tracing;

namespace DeflectScan.Tests.Scenes;

/// <summary>The measurement that the truth itself would give, to be falsified by known amounts.</summary>
internal static class PerfectMeasurement
{
    public static Measurement Of(Truth truth, MeasurementStatus status = MeasurementStatus.Ok, params Finding[] findings)
    {
        TruthSample[] bare = [.. truth.Blank.Samples.Where(s => s.S >= truth.Blank.VisibleFromSMm).Reverse()];
        double length = truth.Blank.LengthMm;
        return new Measurement(
            "test",
            null,
            status,
            findings,
            null,
            truth.Side == "inside" ? BendSide.Inside : BendSide.Outside,
            new BlankReport(length - truth.Blank.VisibleFromSMm, truth.Blank.TipTurnDeg, [.. bare.Select(s => new AxisSample(length - s.S, new Vec2(s.U, s.V), new Vec2(s.X, s.Y), s.DiameterMm))]),
            [.. truth.Guides.Select(g => new GuideReport(g.Index, g.Kind == "tip", new(g.FromTipMm, 1), null, new Vec2(g.ContactPx[0], g.ContactPx[1]), new(g.HeightMm, 0.2), g.RingOuterMm, g.LineAngleDeg, Source.Traced))],
            null,
            [.. truth.Intervals.Skip(1).Select(i => new IntervalReport(i.From.GetInt32(), i.To.GetInt32(), i.ChordMm, new(i.GapMm, 0.3), i.GapAtSMm, new(i.BowMm, 0.2), 0, i.ClearanceMm, 0, i.WrapsBlank, Source.Traced))],
            new LargestReport(truth.Largest.Gap.From, truth.Largest.Gap.To, truth.Largest.Bow.From, truth.Largest.Bow.To),
            null);
    }

    public static Measurement WithGap(this Measurement m, int pair, double change) =>
        m with { Intervals = [.. m.Intervals.Select((x, i) => i == pair ? x with { Gap = x.Gap with { Mm = x.GapMm + change } } : x)] };

    public static Measurement WithGuides(this Measurement m, Func<GuideReport, GuideReport> change) => m with { Guides = [.. m.Guides.Select(change)] };
}

using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing;

namespace DeflectScan.Scenes;

/// <summary>
/// A photo's exact truth in the form of a measurement, so that pictures and reports can be made and tested without tracing.
/// Figures come from the truth file; uncertainties are nominal and the suggestion is a plain midpoint (for drawing, not for judging).
/// </summary>
public static class TruthMeasurement
{
    /// <summary>The exact axis with s = 0 at the blank's tip.</summary>
    public static BlankAxis Axis(Truth truth)
    {
        double length = truth.Blank.LengthMm;
        TruthSample[] fromTip = [.. truth.Blank.Samples.OrderByDescending(p => p.S)];
        double[] stations = [.. fromTip.Select(p => length - p.S)];
        return new BlankAxis(
            ArcCurve.Through([.. fromTip.Select(p => new Vec2(p.X, p.Y))]),
            stations,
            [.. fromTip.Select(p => p.DiameterMm)],
            [.. stations.Select(_ => 0.02)],
            [.. stations.Select(_ => 0.02)],
            length - truth.Blank.VisibleFromSMm,
            Support: 1);
    }

    public static Measurement From(Truth truth, PhotoInfo photo)
    {
        BlankAxis axis = Axis(truth);
        RodPlane plane = truth.RodPlane();
        GuideReport[] guides = [.. truth.Guides.Select((g, i) => new GuideReport(
            i + 1,
            g.Kind == "tip",
            new MeasuredLength(g.FromTipMm, 1.2),
            g.FromReelMm,
            new Vec2(g.ContactPx[0], g.ContactPx[1]),
            new MeasuredLength(g.HeightMm, 0.3),
            g.RingOuterMm,
            g.LineAngleDeg,
            Source.Traced))];
        IntervalReport[] intervals = [.. truth.Intervals.Skip(1).Select((t, i) => Interval(t, i, truth, axis))];
        LargestReport largest = new(truth.Largest.Gap.From, truth.Largest.Gap.To, truth.Largest.Bow.From, truth.Largest.Bow.To);
        return new Measurement(
            "0.1.0",
            photo,
            MeasurementStatus.Ok,
            [],
            Calibration(truth),
            truth.Side == "inside" ? BendSide.Inside : BendSide.Outside,
            Blank(axis, plane, truth),
            guides,
            new LineReport(Source.Traced, [.. guides.Select(g => g.RingPx)]),
            intervals,
            largest,
            Suggest(guides, intervals, largest, axis, plane));
    }

    private static IntervalReport Interval(TruthInterval t, int i, Truth truth, BlankAxis axis) => new(
        i + 1,
        i + 2,
        t.ChordMm,
        new MeasuredLength(t.GapMm, 0.6),
        truth.Blank.LengthMm - t.GapAtSMm,
        new MeasuredLength(t.BowMm, 0.3),
        truth.Blank.LengthMm - t.BowAtSMm,
        t.ClearanceMm,
        truth.Blank.LengthMm - t.ClearanceAtSMm,
        t.ClearanceMm <= 0,
        Source.Traced);

    private static CalibrationReport? Calibration(Truth truth) => truth.Cards.Count == 0
        ? null
        : new CalibrationReport(
            [.. truth.Cards.Select(c => new CardReport(c.Letter[0], 24, 0.1)
            {
                OutlinePx = [.. c.OuterCornersPx.Select(p => new Vec2(p[0], p[1]))],
            })],
            "exif",
            Math.Abs(truth.Camera.YawDeg),
            1600,
            truth.Camera.MmPerPxCentre,
            0.2);

    private static BlankReport Blank(BlankAxis axis, RodPlane plane, Truth truth)
    {
        Vec2 tip = axis.Curve.Point(0);
        int count = (int)(axis.HandleStationMm / 5);
        return new BlankReport(
            axis.HandleStationMm,
            truth.Blank.TipTurnDeg,
            [.. Enumerable.Range(0, count + 1).Select(i => 5.0 * i).Select(s =>
                new AxisSample(s, plane.ToPhoto(axis.Curve.Point(s)), axis.Curve.Point(s) - tip, 2 * axis.RadiusMm(s)))]);
    }

    private static SuggestionReport Suggest(
        GuideReport[] guides, IntervalReport[] intervals, LargestReport largest, BlankAxis axis, RodPlane plane)
    {
        GuideReport a = guides[largest.BowFrom - 1];
        GuideReport b = guides[largest.BowTo - 1];
        double add = (a.StationMm + b.StationMm) / 2;
        Vec2 ringAtA = plane.ToPlane(a.RingPx);
        double sideSign = Math.Sign(axis.Curve.Nearest(ringAtA).Offset);
        SuggestedGuide Place(int? index, double s, double height) =>
            new(index, s, height, plane.ToPhoto(axis.Curve.Point(s) + (axis.Curve.Normal(s) * (sideSign * height))));

        List<SuggestedGuide> layout = [];
        List<MoveReport> moves = [];
        foreach (GuideReport g in guides)
        {
            double shift = g.IsTip || g.Index < 3 ? 0 : g.Index <= a.Index ? -22 : 18;
            if (shift != 0)
                moves.Add(new MoveReport(g.Index, g.StationMm, g.StationMm + shift));
            layout.Add(shift == 0
                ? new SuggestedGuide(g.Index, g.StationMm, g.HeightMm, g.RingPx)
                : Place(g.Index, g.StationMm + shift, g.HeightMm));
            if (g.Index == a.Index)
                layout.Add(Place(null, add, (a.HeightMm + b.HeightMm) / 2));
        }

        IntervalReport worst = intervals[largest.BowFrom - 1];
        return new SuggestionReport(
            $"The blank bows most between guides {a.Index} and {b.Index}.",
            add,
            moves,
            worst.BowMm,
            worst.BowMm / 2.2,
            worst.GapMm,
            worst.GapMm / 1.8,
            layout);
    }
}

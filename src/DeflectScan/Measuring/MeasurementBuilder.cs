using System.Reflection;
using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Measuring.Figures;
using DeflectScan.Photos;
using DeflectScan.Tracing;

namespace DeflectScan.Measuring;

/// <summary>Turns what the stages found into the document's figures.</summary>
internal static class MeasurementBuilder
{
    /// <summary>Distance in mm between two samples of the axis in the document.</summary>
    private const double AxisStepMm = 5;

    private static readonly string Version =
        typeof(MeasurementBuilder).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion.Split('+')[0] ?? "0";

    public static Measurement Refused(PhotoInfo? photo, FindingLedger ledger, PlaneSolution? solved = null) =>
        new(Version, photo, MeasurementStatus.Refused, ledger.Findings, solved is null ? null : Report(solved, null, null), null, null, [], null, [], null, null);

    /// <summary>The blank alone, of a rod that nothing pulls: no rings, no line.</summary>
    public static Measurement AtRest(UprightPhoto photo, PlaneSolution solved, BlankAxis axis, FindingLedger ledger) =>
        new(Version, photo.Info, ledger.Status, ledger.Findings, Report(solved, null, null), null, Blank(axis, solved.Plane), [], null, [], null, null);

    public static Measurement Build(UprightPhoto photo, SettledTrace settled, MeasureOptions options, FindingLedger ledger)
    {
        (PlaneSolution solved, PlaneTrace trace, LineTrace line, LayoutFigures figures, LayoutUncertainty uncertainty) = settled;
        ReelDistances reel = ReelDistances.Of(settled, options, ledger);
        LayoutResult layout = figures.Layout;
        IntervalReport[] pairs = [.. layout.Intervals.Select((pair, i) => Interval(i, pair, line, uncertainty))];
        Measurement measured = new(
            Version,
            photo.Info,
            ledger.Status,
            ledger.Findings,
            Report(solved, figures, uncertainty),
            line.Side,
            Blank(trace.Axis, solved.Plane) with { Reel = reel.Front },
            [.. layout.Rings.Select((ring, i) => Guide(i, layout, line, uncertainty, reel, solved.Plane))],
            new LineReport(line.SegmentSources.Contains(Source.Inferred) ? Source.Inferred : line.SegmentSources.FirstOrDefault(), [.. line.Rings.Select(r => solved.Plane.ToPhoto(r.ContactMm))]),
            pairs,
            new LargestReport(layout.LargestGap + 1, layout.LargestGap + 2, layout.LargestBow + 1, layout.LargestBow + 2),
            null)
        {
            Running = RunningReport.Of(pairs, line.Side, options.HoldGuides),
            Budget = UncertaintyBudget.Of(uncertainty, layout, solved),
            Covariance = CovarianceBuilder.Of(settled),
        };
        return measured with { Suggestion = SuggestionBuilder.Build(measured, mm => mm + trace.Axis.Curve.Point(0), solved.Plane) };
    }

    private static CalibrationReport Report(PlaneSolution solved, LayoutFigures? figures, LayoutUncertainty? uncertainty) => new(
        [.. solved.Cards.Select(c => new CardReport(c.Letter, c.Corners, c.RmsPx) { OutlinePx = [.. c.PatternMm.Select(solved.Plane.ToPhoto)], TurnDeg = TurnDeg(c.PatternMm) })],
        solved.Lens,
        solved.TiltDeg,
        solved.DistanceMm,
        solved.MmPerPx,
        figures is null || uncertainty is null ? solved.ScaleUncertaintyPercent : 100 * uncertainty.LengthFromCalibrationMm / figures.Shape.LengthMm);

    private static BlankReport Blank(BlankAxis axis, RodPlane plane)
    {
        ArcCurve curve = axis.Curve;
        Vec2 tip = curve.Point(0);
        int steps = Math.Max(1, (int)Math.Ceiling(curve.Length / AxisStepMm));
        double[] stations = [.. Enumerable.Range(0, steps + 1).Select(i => curve.Length * i / steps)];
        IReadOnlyList<double> across = AxisUncertainty.Across(axis, stations, plane);
        AxisSample Sample(double s, int i) => new(s, plane.ToPhoto(curve.Point(s)), curve.Point(s) - tip, 2 * axis.RadiusMm(s)) { AcrossUncertaintyMm = across[i] };
        return new BlankReport(curve.Length, TurnDeg(curve), [.. stations.Select(Sample)]);
    }

    private static double TurnDeg(IReadOnlyList<Vec2> patternMm)
    {
        Vec2 row = patternMm[1] - patternMm[0];
        return Math.Atan2(row.Y, row.X) * 180 / Math.PI;
    }

    /// <summary>Turn of the tip against the other end, degrees.</summary>
    public static double TurnDeg(ArcCurve curve)
    {
        const int Steps = 200;
        double turn = 0;
        for (int i = 0; i < Steps; i++)
        {
            Vec2 a = curve.Tangent(curve.Length * i / Steps);
            Vec2 b = curve.Tangent(curve.Length * (i + 1) / Steps);
            turn += a.TurnTo(b);
        }

        return Math.Abs(turn) * 180 / Math.PI;
    }

    private static GuideReport Guide(
        int i, LayoutResult layout, LineTrace line, LayoutUncertainty uncertainty, ReelDistances reel, RodPlane plane)
    {
        RingSighting seen = line.Rings[i];
        bool isTip = i == layout.Rings.Count - 1;
        return new GuideReport(
            i + 1,
            isTip,
            new MeasuredLength(isTip ? 0 : uncertainty.Figures.Values[i], uncertainty.StationMm[i]),
            reel.Front.StationMm - (isTip ? 0 : uncertainty.Figures.Values[i]),
            plane.ToPhoto(seen.ContactMm),
            new MeasuredLength(uncertainty.Figures.Values[uncertainty.HeightAt(i)], uncertainty.HeightMm[i]),
            seen.OuterDiameterMm,
            layout.LineAnglesDeg[i],
            seen.Source)
        {
            FromReelUncertaintyMm = reel.UncertaintyMm?[i],
            StationSeenMm = uncertainty.SeenMm(i),
            HeightSeenMm = uncertainty.SeenMm(uncertainty.HeightAt(i)),
        };
    }

    private static IntervalReport Interval(int i, Interval pair, LineTrace line, LayoutUncertainty uncertainty) => new(
        i + 1,
        i + 2,
        pair.ChordMm,
        new MeasuredLength(uncertainty.Figures.Values[uncertainty.GapAt(i)], uncertainty.GapMm[i]),
        pair.GapAtMm,
        new MeasuredLength(uncertainty.Figures.Values[uncertainty.BowAt(i)], uncertainty.BowMm[i]),
        pair.BowAtMm,
        uncertainty.Figures.Values[uncertainty.ClearanceAt(i)],
        pair.ClearanceAtMm,
        pair.TouchesBlank,
        line.SegmentSources[i])
    {
        Seen = new SeenPart(uncertainty.SeenMm(uncertainty.GapAt(i)), uncertainty.SeenMm(uncertainty.BowAt(i)), uncertainty.SeenMm(uncertainty.ClearanceAt(i))),
    };
}

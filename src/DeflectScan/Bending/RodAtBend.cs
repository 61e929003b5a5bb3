using DeflectScan.Desk;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Layout.Suggesting;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;

namespace DeflectScan.Bending;

/// <summary>The measured rod bent otherwise: the blank's shape, its rings at their stations and heights, and the figures of a layout on it.</summary>
internal sealed class RodAtBend
{
    private const double KnotMm = 10;
    private readonly MeasuredLayout _rod;

    public RodAtBend(MeasuredLayout rod, ArcCurve curve)
    {
        _rod = rod;
        Shape = ShapeOf(curve);
        Rings = [.. rod.Rings.Select(r => RingPoint.At(Shape, Math.Min(r.StationMm, curve.Length), r.DistanceMm, rod.Side))];
    }

    public BlankShape Shape { get; }

    /// <summary>The present guides, from the reel to the tip-top.</summary>
    public IReadOnlyList<RingPoint> Rings { get; }

    public LayoutResult Present() => LayoutRule.Evaluate(Shape, Rings, _rod.Side);

    /// <summary>The present guides moved so that the free ones stand at planned stations.</summary>
    public IReadOnlyList<RingPoint> At(IReadOnlyList<double> freeStationsMm, int lastHeld) =>
        [.. Arrangement.Place(Shape, Rings, _rod.Side, lastHeld, freeStationsMm).Select(r => r.Point)];

    public LayoutAtBend InShort(IReadOnlyList<RingPoint> rings, int lastHeld)
    {
        LayoutResult figures = LayoutRule.Evaluate(Shape, rings, _rod.Side);
        return new LayoutAtBend(
            [.. rings.Select(r => r.StationMm)],
            figures.Intervals.Max(i => i.GapMm),
            figures.Intervals.Skip(lastHeld).Max(i => i.BowMm),
            figures.Intervals.Min(i => i.ClearanceMm));
    }

    /// <summary>
    /// The present layout's pairs with their uncertainty: that of the measured pair (rings' heights and stations, tracing) and how far the predicted bend may
    /// be off, in squares (JCGM 100:2008, 5.1).
    /// </summary>
    public IReadOnlyList<BendPair> Pairs(PredictedBend predicted)
    {
        LayoutResult here = Present();
        int n = here.Intervals.Count;
        double[] gap = new double[n];
        double[] bow = new double[n];
        double[] clearance = new double[n];
        foreach (ArcCurve variant in predicted.Variants())
        {
            LayoutResult there = new RodAtBend(_rod, variant).Present();
            for (int i = 0; i < n; i++)
            {
                gap[i] += Square(there.Intervals[i].GapMm - here.Intervals[i].GapMm);
                bow[i] += Square(there.Intervals[i].BowMm - here.Intervals[i].BowMm);
                clearance[i] += Square(there.Intervals[i].ClearanceMm - here.Intervals[i].ClearanceMm);
            }
        }

        return [.. here.Intervals.Select((v, i) =>
        {
            IntervalReport measured = _rod.Measurement.Intervals[i];
            return new BendPair(
                i + 1, i + 2,
                v.GapMm, Math.Sqrt((4 * gap[i]) + Square(measured.Gap.UncertaintyMm)),
                v.BowMm, Math.Sqrt((4 * bow[i]) + Square(measured.Bow.UncertaintyMm)),
                v.ClearanceMm, Math.Sqrt((4 * clearance[i]) + Square(measured.Gap.UncertaintyMm)),
                v.TouchesBlank);
        })];
    }

    private BlankShape ShapeOf(ArcCurve curve)
    {
        IReadOnlyList<AxisSample> axis = _rod.Measurement.Blank!.Axis;
        double end = axis[^1].SMm;
        double RadiusMm(double s)
        {
            double at = Math.Clamp(s / end, 0, 1) * (axis.Count - 1);
            int i = Math.Min((int)at, axis.Count - 2);
            return (axis[i].DiameterMm + ((at - i) * (axis[i + 1].DiameterMm - axis[i].DiameterMm))) / 2;
        }

        return new BlankShape(curve.Part(0, curve.Length, KnotMm), RadiusMm);
    }

    private static double Square(double v) => v * v;
}

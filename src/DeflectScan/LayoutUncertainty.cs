using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Tracing;

namespace DeflectScan;

/// <summary>
/// Expanded uncertainties (95 %) of a layout's figures, in mm: linear propagation of the plane's covariance and of tracing noise
/// (JCGM 100:2008, 5.1 and 5.2), by finite differences through the same code that makes the figures.
/// </summary>
/// <param name="StationMm">Per ring, from the reel to the tip-top.</param>
/// <param name="HeightMm">Per ring.</param>
/// <param name="GapMm">Per pair.</param>
/// <param name="BowMm">Per pair.</param>
/// <param name="ClearanceMm">Per pair.</param>
/// <param name="LengthMm">Of the traced length.</param>
/// <param name="LengthFromPlaneMm">The part of it that the calibration makes.</param>
internal sealed record LayoutUncertainty(
    IReadOnlyList<double> StationMm,
    IReadOnlyList<double> HeightMm,
    IReadOnlyList<double> GapMm,
    IReadOnlyList<double> BowMm,
    IReadOnlyList<double> ClearanceMm,
    double LengthMm,
    double LengthFromPlaneMm)
{
    /// <summary>Coverage factor for about 95 %: JCGM 100:2008, 6.3.3 (k = 2 for a near-normal distribution).</summary>
    public const double Coverage = 2;

    public static LayoutUncertainty Of(PlaneTrace trace, LayoutFigures figures, IReadOnlyList<RingSighting> rings, RodPlane plane, GuideSide side)
    {
        double[] row = figures.Row();
        double[] fromPlane = new double[row.Length];
        foreach (RodPlane variant in plane.Variants)
            AddSquares(fromPlane, row, LayoutFigures.Of(trace.CarriedTo(variant, plane), side).Row());
        double[] all = [.. fromPlane];
        for (int i = 0; i < rings.Count; i++)
        {
            double s = figures.Layout.Rings[i].StationMm;
            AddSquares(all, row, Moved(trace, figures, side, i, trace.Axis.Curve.Tangent(s) * rings[i].AlongSdMm).Row());
            AddSquares(all, row, Moved(trace, figures, side, i, trace.Axis.Curve.Normal(s) * rings[i].AcrossSdMm).Row());
        }

        AddAxisNoise(all, figures.Layout, trace.Axis);
        int n = rings.Count;
        double[] expanded = [.. all.Select(v => Coverage * Math.Sqrt(v))];
        return new LayoutUncertainty(
            expanded[..n],
            expanded[n..(2 * n)],
            expanded[(2 * n)..((3 * n) - 1)],
            expanded[((3 * n) - 1)..((4 * n) - 2)],
            expanded[((4 * n) - 2)..((5 * n) - 3)],
            expanded[^1],
            Coverage * Math.Sqrt(fromPlane[^1]));
    }

    private static LayoutFigures Moved(PlaneTrace trace, LayoutFigures figures, GuideSide side, int ring, Vec2 byMm)
    {
        PlaneTrace moved = trace.WithContactMoved(ring, byMm);
        return ring == trace.ContactsMm.Count - 1
            ? LayoutFigures.Of(moved, side)
            : LayoutFigures.Of(figures.Shape, moved.ContactsMm, side);
    }

    /// <summary>
    /// Noise of the axis and of the diameter acts on the spot: a gap and a clearance shift by both, a height by the axis, a bow by the axis
    /// at its middle and half of it at each end.
    /// </summary>
    private static void AddAxisNoise(double[] variances, LayoutResult layout, BlankAxis axis)
    {
        int n = layout.Rings.Count;
        double Axis(double s) => axis.SdMm(s) * axis.SdMm(s);
        double Surface(double s) => Axis(s) + (axis.DiameterSd(s) * axis.DiameterSd(s) / 4);
        for (int i = 0; i < n; i++)
            variances[n + i] += Axis(layout.Rings[i].StationMm);
        for (int i = 0; i < n - 1; i++)
        {
            Interval pair = layout.Intervals[i];
            variances[(2 * n) + i] += Surface(pair.GapAtMm);
            variances[(3 * n) - 1 + i] += Axis(pair.BowAtMm) + ((Axis(layout.Rings[i].StationMm) + Axis(layout.Rings[i + 1].StationMm)) / 4);
            variances[(4 * n) - 2 + i] += Surface(pair.ClearanceAtMm);
        }
    }

    private static void AddSquares(double[] sum, double[] row, double[] other)
    {
        for (int i = 0; i < row.Length; i++)
            sum[i] += (other[i] - row[i]) * (other[i] - row[i]);
    }
}

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
    /// <summary>
    /// Where on the ring the line lies: a ring's wire and insert are 1 to 2 mm thick along the blank, and the contact is somewhere on them
    /// (standard uncertainty of a uniform distribution of half width 0.8 mm, JCGM 100:2008, 4.3.7; the width is common practice, no source).
    /// </summary>
    private const double RingDepthSdMm = 0.8 / 1.7320508;

    /// <summary>
    /// A line lit from one side can match its background there, so that its middle seems up to 0.25 px off, all along in the same sense:
    /// measured on rendered photographs; uniform distribution.
    /// </summary>
    private const double LineOffsetSdPx = 0.25 / 1.7320508;

    /// <summary>An edge of the blank between shaded paint and its background may sit up to 0.1 px off, all along in the same sense; uniform distribution.</summary>
    private const double EdgeOffsetSdPx = 0.1 / 1.7320508;

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
            double along = Math.Sqrt((rings[i].AlongSdMm * rings[i].AlongSdMm) + (RingDepthSdMm * RingDepthSdMm));
            AddSquares(all, row, Moved(trace, figures, side, i, trace.Axis.Curve.Tangent(s) * along).Row());
            AddSquares(all, row, Moved(trace, figures, side, i, trace.Axis.Curve.Normal(s) * rings[i].AcrossSdMm).Row());
        }

        AddAxisNoise(all, figures.Layout, trace.Axis);
        AddOffsets(all, figures.Layout.Rings, trace.Axis, plane);
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

    /// <summary>Offsets that a whole line or edge has in common: they shift heights, gaps and clearances alike, and no bow.</summary>
    private static void AddOffsets(double[] variances, IReadOnlyList<RingPoint> rings, BlankAxis axis, RodPlane plane)
    {
        int n = rings.Count;
        for (int i = 0; i < n; i++)
        {
            double mmPerPx = plane.MmPerPx(axis.Curve.Point(rings[i].StationMm));
            double line = LineOffsetSdPx * mmPerPx;
            double edge = EdgeOffsetSdPx * mmPerPx;
            variances[n + i] += line * line;
            if (i == n - 1)
                continue;
            variances[(2 * n) + i] += (line * line) + (edge * edge);
            variances[(4 * n) - 2 + i] += (line * line) + (edge * edge);
        }
    }

    private static void AddSquares(double[] sum, double[] row, double[] other)
    {
        for (int i = 0; i < row.Length; i++)
            sum[i] += (other[i] - row[i]) * (other[i] - row[i]);
    }
}

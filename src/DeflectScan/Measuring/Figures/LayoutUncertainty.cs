using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Geometry.Propagation;
using DeflectScan.Layout;
using DeflectScan.Tracing;

namespace DeflectScan.Measuring.Figures;

/// <summary>
/// Expanded uncertainties (95 %) of a layout's figures, in mm: linear propagation of the plane's covariance and of tracing noise
/// (JCGM 100:2008, 5.1 and 5.2), by finite differences through the same code that makes the figures.
/// </summary>
/// <param name="Figures">The row of <see cref="LayoutFigures.Row"/> with every cause's effect.</param>
/// <param name="Rings">How many rings the row has.</param>
internal sealed record LayoutUncertainty(Propagated<UncertaintyCause> Figures, int Rings)
{
    /// <summary>
    /// A line lit from one side can match its background there, so that its middle seems off, all along in the same sense. With this, and what
    /// the tracing states of the blank's edges, 96.1 % of 482 gaps under ok on rendered scenes lay inside what was stated of them.
    /// </summary>
    private const double LineOffsetSdPx = 0.07;

    /// <summary>
    /// The same of the blank: a camera's sharpening moves an edge by about 0.1 px, more where the wall beside it is brighter, so that a blank with its shadow
    /// on one side seems off all along, and with it every height; its surface on the line's side not more than said.
    /// </summary>
    private const double AxisOffsetSdPx = 0.1;

    /// <summary>
    /// Standard uncertainty in mm of where along the blank the tip-top's ring is seen, besides what its sighting states: knot, tube and ring hide the end. It
    /// moves every station alike. 0.4 mm rms and 1 mm at worst on rendered photographs with exact truth.
    /// </summary>
    public const double TipEndSdMm = 0.4;

    /// <summary>Coverage factor for about 95 %: JCGM 100:2008, 6.3.3 (k = 2 for a near-normal distribution).</summary>
    public const double Coverage = 2;

    /// <summary>Per ring, from the reel to the tip-top.</summary>
    public IReadOnlyList<double> StationMm => Expanded(0, Rings);

    /// <summary>Per ring.</summary>
    public IReadOnlyList<double> HeightMm => Expanded(Rings, Rings);

    /// <summary>Per pair.</summary>
    public IReadOnlyList<double> GapMm => Expanded(GapAt(0), Rings - 1);

    /// <summary>Per pair.</summary>
    public IReadOnlyList<double> BowMm => Expanded(BowAt(0), Rings - 1);

    /// <summary>
    /// The part of a figure's uncertainty that seeing makes, in one photo as in the next: tracing, and the noise of the cards' corners. The rest is of the
    /// set-up.
    /// </summary>
    /// <param name="figure">Its place in the row.</param>
    public double SeenMm(int figure) => Coverage * Math.Sqrt(Figures.Causes.Where(IsSeen).Sum(c => Figures.Variance(figure, c)));

    private static bool IsSeen(UncertaintyCause cause) =>
        cause is UncertaintyCause.Scale or UncertaintyCause.Tilt or UncertaintyCause.Blank or UncertaintyCause.Line or UncertaintyCause.Rings;

    /// <summary>Of the traced length.</summary>
    public double LengthMm => Coverage * Figures.Sd(LengthAt);

    /// <summary>The part of it that the calibration makes: all causes but those of tracing.</summary>
    public double LengthFromCalibrationMm => Coverage * Math.Sqrt(Figures.Causes.Where(c => c < UncertaintyCause.Blank).Sum(c => Figures.Variance(LengthAt, c)));

    /// <summary>Places in the row.</summary>
    public int LengthAt => Figures.Values.Count - 1;

    public int HeightAt(int ring) => Rings + ring;

    public int GapAt(int pair) => (2 * Rings) + pair;

    public int BowAt(int pair) => (3 * Rings) - 1 + pair;

    public int ClearanceAt(int pair) => (4 * Rings) - 2 + pair;

    public static LayoutUncertainty Of(PlaneTrace trace, LayoutFigures figures, IReadOnlyList<RingSighting> rings, RodPlane plane, GuideSide side)
    {
        Propagated<UncertaintyCause> all = new(figures.Row());
        LayoutUncertainty result = new(all, rings.Count);
        for (int k = 0; k < plane.Variants.Count; k++)
            all.Displace(plane.VariantCauses[k], LayoutFigures.Of(trace.CarriedTo(plane.Variants[k], plane), side).Row());
        for (int i = 0; i < rings.Count; i++)
        {
            (Vec2 along, Vec2 across) = RingSdMm(trace, figures, rings[i], i);
            all.Displace(UncertaintyCause.Rings, Moved(trace, figures, side, i, along).Row());
            all.Displace(UncertaintyCause.Line, Moved(trace, figures, side, i, across).Row());
        }

        all.Displace(UncertaintyCause.TipEnd, Moved(trace, figures, side, rings.Count - 1, TipEndSd(trace)).Row());
        result.AddAxisNoise(figures.Layout, trace.Axis);
        result.AddLineOffset(figures.Layout.Rings, trace.Axis, plane);
        return result;
    }

    /// <summary>A contact displaced by one standard deviation along and across the blank, mm. The plane's variants come before these in the row, ring by ring.</summary>
    public static (Vec2 Along, Vec2 Across) RingSdMm(PlaneTrace trace, LayoutFigures figures, RingSighting ring, int index)
    {
        double s = figures.Layout.Rings[index].StationMm;
        return (trace.Axis.Curve.Tangent(s) * ring.AlongSdMm, trace.Axis.Curve.Normal(s) * ring.AcrossSdMm);
    }

    /// <summary>The tip-top's contact displaced by one standard deviation of the tip's end, mm; its place in the row follows those of the rings.</summary>
    public static Vec2 TipEndSd(PlaneTrace trace) => trace.Axis.Curve.Tangent(0) * TipEndSdMm;

    private double[] Expanded(int from, int count) => [.. Enumerable.Range(from, count).Select(i => Coverage * Figures.Sd(i))];

    private static LayoutFigures Moved(PlaneTrace trace, LayoutFigures figures, GuideSide side, int ring, Vec2 byMm)
    {
        PlaneTrace moved = trace.WithContactMoved(ring, byMm);
        return ring == trace.ContactsMm.Count - 1
            ? LayoutFigures.Of(moved, side)
            : LayoutFigures.Of(figures.Shape, moved.ContactsMm, side);
    }

    /// <summary>
    /// Noise of the axis and of the diameter acts on the spot: a gap and a clearance shift by both, a height by the axis, a bow by what the axis
    /// has of its own at its middle and half of it at each end.
    /// </summary>
    private void AddAxisNoise(LayoutResult layout, BlankAxis axis)
    {
        double Axis(double s) => axis.SdMm(s) * axis.SdMm(s);
        double Own(double s) => axis.LocalSd(s) * axis.LocalSd(s);
        double Surface(double s) => Axis(s) + (axis.DiameterSd(s) * axis.DiameterSd(s) / 4);
        for (int i = 0; i < Rings; i++)
            Figures.Add(UncertaintyCause.Blank, HeightAt(i), Axis(layout.Rings[i].StationMm));
        for (int i = 0; i < Rings - 1; i++)
        {
            Interval pair = layout.Intervals[i];
            Figures.Add(UncertaintyCause.Blank, GapAt(i), Surface(pair.GapAtMm));
            Figures.Add(UncertaintyCause.Blank, BowAt(i), Own(pair.BowAtMm) + ((Own(layout.Rings[i].StationMm) + Own(layout.Rings[i + 1].StationMm)) / 4));
            Figures.Add(UncertaintyCause.Blank, ClearanceAt(i), Surface(pair.ClearanceAtMm));
        }
    }

    /// <summary>
    /// The offset that the whole line has in common shifts heights, gaps and clearances alike, and no bow. What the blank's edges have in
    /// common is in the axis' and the diameter's own uncertainty, but for the side that the light comes from, which shifts the axis under every height.
    /// </summary>
    private void AddLineOffset(IReadOnlyList<RingPoint> rings, BlankAxis axis, RodPlane plane)
    {
        for (int i = 0; i < Rings; i++)
        {
            double mmPerPx = plane.MmPerPx(axis.Curve.Point(rings[i].StationMm));
            double line = Math.Pow(LineOffsetSdPx * mmPerPx, 2);
            Figures.Add(UncertaintyCause.Line, HeightAt(i), line);
            Figures.Add(UncertaintyCause.Blank, HeightAt(i), Math.Pow(AxisOffsetSdPx * mmPerPx, 2));
            if (i == Rings - 1)
                continue;
            Figures.Add(UncertaintyCause.Line, GapAt(i), line);
            Figures.Add(UncertaintyCause.Line, ClearanceAt(i), line);
        }
    }
}

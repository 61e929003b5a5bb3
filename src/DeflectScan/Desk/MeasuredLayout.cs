using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Layout.Suggesting;
using DeflectScan.Tracing;

namespace DeflectScan.Desk;

/// <summary>A measured rod as the layout desk takes it: the bent blank, which stays, and the rings on it. Rod-plane mm, stations from the tip.</summary>
/// <param name="Measurement">The document that it came from.</param>
/// <param name="Shape">The blank.</param>
/// <param name="Rings">From the reel to the tip-top.</param>
/// <param name="Side">Side of the bend that the guides stand on.</param>
/// <param name="LineFromMm">A point of the line before the first ring, if its angle there was measured.</param>
/// <param name="LineToMm">A point of the line beyond the tip-top, if its angle there was measured.</param>
/// <param name="ReelStationMm">Station of the reel's front, from the tip, if known.</param>
public sealed record MeasuredLayout(
    Measurement Measurement,
    BlankShape Shape,
    IReadOnlyList<RingPoint> Rings,
    GuideSide Side,
    Vec2? LineFromMm,
    Vec2? LineToMm,
    double? ReelStationMm)
{
    /// <summary>Length in mm of the pieces of line before the first ring and beyond the tip-top; only their directions are known.</summary>
    private const double LeadMm = 1000;

    /// <summary>mm that recomputed figures may differ from the document's: its axis is sampled every 5 mm and rounded to 0.1 µm.</summary>
    private const double AgreementMm = 0.05;

    /// <summary>
    /// The rod of a measurement document, or a refusal: nothing was measured, or its parts contradict each other (a file changed by hand).
    /// The document's gaps and bows are recomputed from its axis and rings to see that.
    /// </summary>
    public static Outcome<MeasuredLayout> Of(Measurement m)
    {
        if (m.Status == MeasurementStatus.Refused || m.Blank is null || m.Side is not { } side || m.Guides.Count < 2)
            return Refused("The document holds no measured layout: measure a photo whose status is ok or needs_review.");
        if (!IsWhole(m))
            return Refused("The document is damaged: its axis, guides and pairs do not fit together; measure the photo again.");
        BlankShape shape = BlankShape.Through([.. m.Blank.Axis.Select(a => a.Mm)], [.. m.Blank.Axis.Select(a => a.DiameterMm)]);
        GuideSide guideSide = side == BendSide.Inside ? GuideSide.Inside : GuideSide.Outside;
        RingPoint[] rings = [.. m.Guides.Select(g => RingPoint.At(shape, g.StationMm, g.HeightMm, guideSide))];
        if (PairThatDiffers(m, LayoutRule.Evaluate(shape, rings, guideSide)) is { } pair)
            return Refused($"The document contradicts itself: the figures of pair {pair.From} to {pair.To} do not follow from its axis and rings; measure the photo again.");
        return Outcome<MeasuredLayout>.Of(new MeasuredLayout(
            m,
            shape,
            rings,
            guideSide,
            Lead(shape, rings[0].PointMm, rings[1].PointMm, m.Guides[0].LineAngleDeg, before: true),
            Lead(shape, rings[^1].PointMm, rings[^2].PointMm, m.Guides[^1].LineAngleDeg, before: false),
            m.Guides.FirstOrDefault(g => g.FromReelMm is not null) is { } g ? g.StationMm + g.FromReelMm : null));
    }

    /// <summary>Guides from the reel that are reduction guides, as the document says or as usual.</summary>
    public int Reduction => RunningPairs.Reduction(Side, Rings.Count, Measurement.Running?.ReductionGuides);

    /// <summary>mm, 95 %, of what a change takes off the largest running bow: a difference of two bows as sure as the least sure running one.</summary>
    public double GainUncertaintyMm => Math.Sqrt(2) * Measurement.Intervals.Skip(Reduction - 1).Max(i => i.Bow.UncertaintyMm);

    /// <summary>The same of the least running clearance, which is about as sure as a gap.</summary>
    public double ClearanceUncertaintyMm => Math.Sqrt(2) * Measurement.Intervals.Skip(Reduction - 1).Max(i => i.Gap.UncertaintyMm);

    /// <summary>When a change of this rod's layout is worth its work.</summary>
    internal SuggestionOptions Worth => new() { GainUncertaintyMm = GainUncertaintyMm, ClearanceUncertaintyMm = ClearanceUncertaintyMm };

    /// <summary>The same with the reel's front at a taped distance (mm along the blank) before the first guide.</summary>
    public MeasuredLayout WithFirstGuideFromReel(double distanceMm) => this with { ReelStationMm = Rings[0].StationMm + distanceMm };

    private static Outcome<MeasuredLayout> Refused(string message) => Outcome<MeasuredLayout>.Refused(FindingCode.FileUnreadable, message);

    private static bool IsWhole(Measurement m)
    {
        IReadOnlyList<AxisSample> axis = m.Blank!.Axis;
        return axis.Count >= 3
            && axis[0].SMm == 0
            && axis.Zip(axis.Skip(1)).All(p => p.Second.SMm > p.First.SMm && Math.Abs(p.First.Mm.DistanceTo(p.Second.Mm) - (p.Second.SMm - p.First.SMm)) < 0.5)
            && axis.All(a => a.DiameterMm > 0)
            && m.Guides.Select((g, i) => (g, i)).All(p => p.g.Index == p.i + 1 && p.g.IsTip == (p.i == m.Guides.Count - 1))
            && m.Guides.Zip(m.Guides.Skip(1)).All(p => p.First.StationMm > p.Second.StationMm)
            && m.Guides.All(g => g.StationMm >= 0 && g.StationMm <= axis[^1].SMm && g.HeightMm >= 0)
            && m.Intervals.Count == m.Guides.Count - 1
            && m.Intervals.Select((v, i) => (v, i)).All(p => p.v.From == p.i + 1 && p.v.To == p.i + 2);
    }

    private static IntervalReport? PairThatDiffers(Measurement m, LayoutResult again) => m.Intervals
        .Where((v, i) => Differ(v.GapMm, again.Intervals[i].GapMm, v.Gap.UncertaintyMm) || Differ(v.BowMm, again.Intervals[i].BowMm, v.Bow.UncertaintyMm))
        .FirstOrDefault();

    private static bool Differ(double a, double b, double uncertainty) => Math.Abs(a - b) > Math.Max(AgreementMm, uncertainty);

    /// <summary>A point of the line on the outer side of an end ring, from the angle that it turns through there (see <see cref="LayoutRule.LineAngleDeg"/>).</summary>
    private static Vec2? Lead(BlankShape shape, Vec2 end, Vec2 next, double? angleDeg, bool before)
    {
        if (angleDeg is not { } deg)
            return null;
        double turn = -shape.InsideSign * deg * Math.PI / 180 * (before ? 1 : -1);
        Vec2 away = (end - next).Normalized();
        return end + (Turned(away, -turn) * LeadMm);
    }

    private static Vec2 Turned(Vec2 v, double angle) => (v * Math.Cos(angle)) + (v.Perpendicular * Math.Sin(angle));
}

using DeflectScan.Layout;
using DeflectScan.Layout.Suggesting;

namespace DeflectScan.Desk;

/// <summary>
/// Figures and uncertainties of a layout that was not photographed. What stays as measured keeps the document's figures. Elsewhere three parts are
/// added in squares (JCGM 100:2008, 5.1): what the photo left open there (the largest measured uncertainty of the pairs that the new one overlaps, grown
/// with the square of its length where it is longer, as a bow grows), the rings' heights, and how well a person can wrap a guide at a mark, the latter
/// two by finite differences through the rule that makes the figures.
/// </summary>
internal static class PredictedLayout
{
    /// <summary>Expanded uncertainty in mm of where a guide ends up that is to be wrapped at a mark (common practice, no source).</summary>
    public const double WrappedWithinMm = 1;

    /// <param name="rod">The rod as measured.</param>
    /// <param name="rings">The layout, from the reel to the tip-top.</param>
    /// <param name="reduction">How many of the measured guides are reduction guides; null: as the rod has them.</param>
    public static JudgedLayout Judge(MeasuredLayout rod, IReadOnlyList<PlannedRing> rings, int? reduction = null)
    {
        int held = RunningPairs.Reduction(rod.Side, rings.Count, 1 + rings.ToList().FindLastIndex(r => r.Ring.Measured < (reduction ?? rod.Reduction)));
        PhotoPlaces photo = PhotoPlaces.Of(rod);
        RingPoint[] points = [.. rings.Select(r => r.Ring.Point)];
        LayoutResult figures = LayoutRule.Evaluate(
            rod.Shape, points, rod.Side, rings[0].Ring.Measured == 0 && Stays(rod, rings[0]) ? rod.LineFromMm : null, rod.LineToMm);
        double[] heights = [.. rings.Select(r => HeightUncertainty(rod, r))];
        JudgedPair[] pairs = [.. figures.Intervals.Select((v, i) => Pair(rod, rings[i], rings[i + 1], v, i))];
        return new JudgedLayout([.. rings.Select((r, i) => Guide(i, r))], pairs)
        {
            ReductionGuides = held,
            FollowsWorst = pairs[RunningPairs.Worst(pairs, rod.Side, held, p => p.BowMm, p => p.ClearanceMm)],
        };

        JudgedGuide Guide(int i, PlannedRing ring)
        {
            RingPoint p = points[i];
            return new JudgedGuide(
                i + 1,
                ring.Ring.Measured + 1,
                i == rings.Count - 1 ? "tip" : "guide",
                p.StationMm,
                rod.ReelStationMm - p.StationMm,
                p.DistanceMm,
                heights[i],
                ring.RingOuterMm,
                figures.LineAnglesDeg[i],
                figures.LineAnglesDeg[i] is null ? null : AngleUncertainty(figures, heights, i),
                Stays(rod, ring) ? rod.Measurement.Guides[ring.Ring.Measured!.Value].RingPx : photo.OfPoint(p.StationMm, p.PointMm));
        }
    }

    private static JudgedPair Pair(MeasuredLayout rod, PlannedRing a, PlannedRing b, Interval v, int i)
    {
        (RingPoint ringA, RingPoint ringB) = (a.Ring.Point, b.Ring.Point);
        if (Stays(rod, a) && Stays(rod, b) && b.Ring.Measured == a.Ring.Measured + 1)
        {
            IntervalReport m = rod.Measurement.Intervals[a.Ring.Measured!.Value];
            double height = Math.Max(HeightUncertainty(rod, a), HeightUncertainty(rod, b));
            return new JudgedPair(
                i + 1, i + 2, m.ChordMm, m.GapMm, m.Gap.UncertaintyMm, m.GapAtMm, m.BowMm, m.Bow.UncertaintyMm, m.BowAtMm,
                m.ClearanceMm, Math.Max(height, m.Gap.UncertaintyMm), m.ClearanceAtMm, m.TouchesBlank);
        }

        double gap = 0, bow = 0, clearance = 0;
        foreach ((PlannedRing ring, bool first) in new[] { (a, true), (b, false) })
        {
            RingPoint p = ring.Ring.Point;
            Add(RingPoint.At(rod.Shape, p.StationMm, p.DistanceMm + HeightUncertainty(rod, ring), rod.Side), first);
            if (!Stays(rod, ring))
                Add(RingPoint.At(rod.Shape, p.StationMm + WrappedWithinMm, p.DistanceMm, rod.Side), first);
        }

        (double Gap, double Bow) photo = FromPhoto(rod, ringB.StationMm, ringA.StationMm);
        return new JudgedPair(
            i + 1, i + 2, v.ChordMm, v.GapMm, Root(gap, photo.Gap), v.GapAtMm, v.BowMm, Root(bow, photo.Bow), v.BowAtMm,
            v.ClearanceMm, Root(clearance, photo.Gap), v.ClearanceAtMm, v.TouchesBlank);

        void Add(RingPoint changed, bool first)
        {
            Interval other = first ? IntervalRule.Measure(rod.Shape, changed, ringB, rod.Side) : IntervalRule.Measure(rod.Shape, ringA, changed, rod.Side);
            gap += Square(other.GapMm - v.GapMm);
            bow += Square(other.BowMm - v.BowMm);
            clearance += Square(other.ClearanceMm - v.ClearanceMm);
        }
    }

    private static (double Gap, double Bow) FromPhoto(MeasuredLayout rod, double from, double to)
    {
        IReadOnlyList<GuideReport> guides = rod.Measurement.Guides;
        IntervalReport[] under = [.. rod.Measurement.Intervals.Where((_, k) => guides[k + 1].StationMm < to && guides[k].StationMm > from)];
        if (under.Length == 0)
            under = [rod.Measurement.Intervals[0]];
        double longest = under.Max(v => guides[v.From - 1].StationMm - guides[v.To - 1].StationMm);
        double growth = Math.Max(1, Square((to - from) / longest));
        return (under.Max(v => v.Gap.UncertaintyMm) * growth, under.Max(v => v.Bow.UncertaintyMm) * growth);
    }

    /// <summary>The angle follows from three ring points; each moves it by its height's uncertainty over the lengths of line beside it.</summary>
    private static double AngleUncertainty(LayoutResult figures, double[] heights, int i)
    {
        double into = i > 0 ? 1 / figures.Intervals[i - 1].ChordMm : 0;
        double onward = i < figures.Intervals.Count ? 1 / figures.Intervals[i].ChordMm : 0;
        double before = i > 0 ? heights[i - 1] * into : 0;
        double after = i < figures.Intervals.Count ? heights[i + 1] * onward : 0;
        return Math.Sqrt(Square(before) + Square(heights[i] * (into + onward)) + Square(after)) * 180 / Math.PI;
    }

    private static double HeightUncertainty(MeasuredLayout rod, PlannedRing ring)
    {
        double measured = ring.Ring.Measured is { } i ? rod.Measurement.Guides[i].Height.UncertaintyMm : 0;
        return Root(Square(measured), ring.HeightOpenMm);
    }

    /// <summary>Whether a ring is a measured one where it was measured.</summary>
    private static bool Stays(MeasuredLayout rod, PlannedRing ring) => ring.Ring.Measured is { } i && ring.Ring.Point == rod.Rings[i];

    private static double Root(double square, double value) => Math.Sqrt(square + (value * value));

    private static double Square(double x) => x * x;
}

using DeflectScan.Geometry;
using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// From a chain of strokes to a first smooth bar: kinks (a cord knotted to the tip, a card's post that crosses the handle) are cut off first.
/// </summary>
internal static class ChainStart
{
    private const double KinkReachMm = 30;
    private const double KinkTurn = 0.42; // rad over twice the reach: a radius below some 140 mm
    // A load bends a blank evenly: it does not turn much more within a hand's width than before and after it. What crosses it does.
    private const int BendReach = 15; // samples: 90 mm
    private const double BendTurn = 0.2; // rad over twice the reach: a radius below some 450 mm
    private const double BendShare = 3; // of the turn before and of that after
    private const double SamplesMm = 6;

    public static TracedBar? Bar(StrokeChain chain, double blurMm)
    {
        (List<Vec2> points, List<double> widths) = Resampled(chain);
        (int from, int to) = LongestUnkinked(points);
        if ((to - from) * SamplesMm < 250)
            return null;
        double[] t = [.. Enumerable.Range(0, to - from + 1).Select(i => i * SamplesMm)];
        double[] one = [.. t.Select(_ => 1.0)];
        PenalisedSpline x = PenalisedSpline.Fit(t, [.. points.Skip(from).Take(t.Length).Select(p => p.X)], one, 0, t[^1], 100, 3, 3);
        PenalisedSpline y = PenalisedSpline.Fit(t, [.. points.Skip(from).Take(t.Length).Select(p => p.Y)], one, 0, t[^1], 100, 3, 3);
        (double slope, double middle) = Taper(t, [.. widths.Skip(from).Take(t.Length)]);
        int knots = Math.Max(6, (int)(t[^1] / 16));
        double[] at = [.. Enumerable.Range(0, knots + 1).Select(i => t[^1] * i / knots)];
        ArcCurve curve = ArcCurve.Through([.. at.Select(v => new Vec2(x.At(v), y.At(v)))]);
        // The search picture's blur widens thin bars: taken off in quadrature.
        return new TracedBar(curve, [.. at.Select(v => Unblurred(middle + (slope * (v - (t[^1] / 2))), blurMm) / 2)]);
    }

    private static double Unblurred(double width, double blur) => Math.Sqrt(Math.Max(1, (width * width) - (blur * blur)));

    private static (List<Vec2> Points, List<double> Widths) Resampled(StrokeChain chain)
    {
        List<Vec2> points = [chain.PointsMm[0]];
        List<double> widths = [chain.WidthsMm[0]];
        double over = 0;
        for (int i = 1; i < chain.PointsMm.Count; i++)
        {
            Vec2 a = chain.PointsMm[i - 1];
            double length = chain.PointsMm[i].DistanceTo(a);
            double at = SamplesMm - over;
            for (; at <= length; at += SamplesMm)
            {
                points.Add(Vec2.Lerp(a, chain.PointsMm[i], at / length));
                widths.Add(chain.WidthsMm[i - 1] + (at / length * (chain.WidthsMm[i] - chain.WidthsMm[i - 1])));
            }

            over = length - (at - SamplesMm);
        }

        return (points, widths);
    }

    private static (int From, int To) LongestUnkinked(List<Vec2> points)
    {
        int reach = (int)(KinkReachMm / SamplesMm);
        double usual = UsualTurn(points);
        List<int> cuts = [0];
        for (int i = reach; i < points.Count - reach; i++)
        {
            if (Math.Abs(Turn(points, i, reach)) > KinkTurn || IsBend(points, i, usual))
                cuts.Add(i);
        }

        cuts.Add(points.Count - 1);
        int best = 0;
        for (int k = 1; k < cuts.Count - 1; k++)
        {
            if (cuts[k + 1] - cuts[k] > cuts[best + 1] - cuts[best])
                best = k;
        }

        return (cuts[best] + (cuts[best] > 0 ? reach : 0), cuts[best + 1] - (cuts[best + 1] < points.Count - 1 ? reach : 0));
    }

    private static bool IsBend(List<Vec2> points, int i, double usual)
    {
        int beside = BendReach * 4 / 3;
        if (i < BendReach + beside || i >= points.Count - BendReach - beside)
            return false;
        double turn = Math.Abs(Turn(points, i, BendReach));
        double around = Math.Max(Math.Abs(Turn(points, i - beside, BendReach)), Math.Abs(Turn(points, i + beside, BendReach)));
        // What leads the chain aside for a while, such as an edge behind it, leaves its way as it was: from well before to well after it turns as usual.
        Vec2 before = points[i - BendReach] - points[i - (2 * BendReach)];
        Vec2 after = points[i + (2 * BendReach)] - points[i + BendReach];
        return turn > BendTurn && turn > BendShare * around && Math.Abs(BarStroke.TurnBetween(before, after) - (3 * usual)) > BendTurn;
    }

    private static double UsualTurn(List<Vec2> points) =>
        OrderStatistics.Middle(Enumerable.Range(BendReach, Math.Max(0, points.Count - (2 * BendReach))).Select(i => Turn(points, i, BendReach)), none: 0);

    private static double Turn(List<Vec2> points, int i, int reach) =>
        BarStroke.TurnBetween(points[i] - points[i - reach], points[i + reach] - points[i]);

    // Theil and Sen: the median of all pairs' slopes; wraps and wrong widths hardly count.
    private static (double Slope, double Middle) Taper(double[] t, double[] widths)
    {
        List<double> slopes = [];
        for (int i = 0; i < t.Length; i += 3)
        {
            for (int j = i + 15; j < t.Length; j += 3)
                slopes.Add((widths[j] - widths[i]) / (t[j] - t[i]));
        }

        double slope = OrderStatistics.Middle(slopes, none: 0);
        return (slope, OrderStatistics.Middle(t.Select((v, i) => widths[i] - (slope * (v - (t[^1] / 2))))));
    }
}

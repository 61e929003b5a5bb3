using DeflectScan.Geometry;
using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Cord;

/// <summary>One straight centreline and one width through a bar's edges, robustly, and how well both hold.</summary>
internal static class CordFit
{
    private const int Rounds = 8;
    private const double TukeyCut = 4.7;
    private const double LongestGapMm = 110; // a card or a shelf in front of or behind it
    private const double EndsAtOnceMm = 130; // an anchor is farther away; what ends before, within the photo, is the line at its weight
    private const double MostUneven = 0.25; // scatter of the width over the width: a cord has one width
    private const double LargestSdDeg = 0.25; // less straight than that is no cord
    private const double LeastScatterMm = 0.03;
    private const double Correlated = 2; // neighbouring blocks err together: texture of the background, twist of the cord

    /// <summary>The cord, or null where what was found is no straight bar of one width that begins at the tip.</summary>
    public static CordTrace? Of(CordStrip strip, CordBar bar, CordOptions options)
    {
        List<CordEdge> edges = CordEdges.Read(strip, bar, options);
        if (edges.Count < 5)
            return null;
        double width = OrderStatistics.Middle(edges.Where(e => e.DistanceMm < options.SearchToMm).Select(e => e.WidthMm), none: 0);
        if (width is not (>= 0.5 and <= 9))
            return null;
        (double at, double slope, double scatter) = (bar.NearMm, bar.Slope, 0.4);
        List<CordEdge> good = edges;
        for (int round = 0; round < Rounds; round++)
        {
            double cut = Math.Max(TukeyCut * scatter, 0.15 + (0.6 * Math.Pow(0.6, round)));
            good = Connected(edges.Where(e => Math.Abs(e.CentreMm - at - (slope * e.DistanceMm)) < cut && Math.Abs(e.WidthMm - width) < 0.35 * width + 0.3), options);
            if (good.Count < 5)
                return null;
            (at, slope) = Line(good, at, slope, cut);
            scatter = Math.Max(LeastScatterMm, NormalLaw.SdPerMedianSize * OrderStatistics.Middle(good.Select(e => Math.Abs(e.CentreMm - at - (slope * e.DistanceMm)))));
        }

        double end = good[^1].DistanceMm;
        double support = Share(good, end, options);
        double length = end - options.FromMm;
        bool endsInTheOpen = length < EndsAtOnceMm && strip.DistanceMm(strip.Blocks - 1) - end > 2.5 * CordStrip.BlockMm;
        if (endsInTheOpen || length < options.LeastLengthMm || Share(good, Math.Min(end, options.SearchToMm), options) < options.LeastSupport)
            return null;
        double widthNow = OrderStatistics.Middle(good.Select(e => e.WidthMm));
        double uneven = NormalLaw.SdPerMedianSize * OrderStatistics.Middle(good.Select(e => Math.Abs(e.WidthMm - widthNow)));
        if (uneven > Math.Max(MostUneven * widthNow, strip.StepMm))
            return null;
        double mean = good.Average(e => e.DistanceMm);
        double spread = Math.Sqrt(good.Sum(e => (e.DistanceMm - mean) * (e.DistanceMm - mean)));
        Vec2 d = strip.Way.Direction;
        Vec2 Place(double distance) => strip.Way.StartMm + (d * distance) + (d.Perpendicular * (at + (slope * distance)));
        double sdDeg = Math.Sqrt(Correlated) * scatter / spread * 180 / Math.PI;
        return sdDeg > LargestSdDeg ? null : new CordTrace(Place(good[0].DistanceMm), Place(end), sdDeg, widthNow, support);
    }

    // From the tip on, until nothing was seen over a long gap.
    private static List<CordEdge> Connected(IEnumerable<CordEdge> edges, CordOptions options)
    {
        List<CordEdge> run = [];
        double last = options.FromMm;
        foreach (CordEdge e in edges)
        {
            if (e.DistanceMm - last > LongestGapMm)
                break;
            run.Add(e);
            last = e.DistanceMm;
        }

        return run;
    }

    private static double Share(List<CordEdge> good, double toMm, CordOptions options)
    {
        double blocks = Math.Max(1, (toMm - options.FromMm) / CordStrip.BlockMm);
        return Math.Min(1, good.Count(e => e.DistanceMm <= toMm) / blocks);
    }

    private static (double At, double Slope) Line(List<CordEdge> edges, double at, double slope, double cut)
    {
        double w = 0;
        double x = 0;
        double y = 0;
        double xx = 0;
        double xy = 0;
        foreach (CordEdge e in edges)
        {
            double r = (e.CentreMm - at - (slope * e.DistanceMm)) / cut;
            double weight = (1 - (r * r)) * (1 - (r * r));
            w += weight;
            x += weight * e.DistanceMm;
            y += weight * e.CentreMm;
            xx += weight * e.DistanceMm * e.DistanceMm;
            xy += weight * e.DistanceMm * e.CentreMm;
        }

        double b = ((w * xy) - (x * y)) / ((w * xx) - (x * x));
        return ((y - (b * x)) / w, b);
    }
}

namespace DeflectScan.Tracing.Line.Outside;

/// <summary>
/// The guides of one rod are a series: from one to the next towards the reel their rings stand alike, or higher and larger (common practice,
/// no source). Strokes in keeping with that are likelier guides, others likelier clutter.
/// </summary>
internal sealed class RingSeries
{
    /// <summary>A stroke as plain as one can be, with or without a wrap, may start the series.</summary>
    private const double LeastScore = 4.5;

    /// <summary>Fewer than these are no series.</summary>
    private const int LeastRings = 3;

    private const double ClosestMm = 30;

    /// <summary>What a further ring in the series must explain: strokes of clutter are as many as rings.</summary>
    private const double RingCost = 7;

    /// <summary>Over so many mm feet and tops of clutter are spread about evenly.</summary>
    private const double FeetMm = 9;
    private const double TopsMm = 28;

    /// <summary>By how much the same ring's foot and top scatter, mm, besides the photo's pixels.</summary>
    private const double FootSdMm = 0.4;
    private const double TopSdMm = 0.6;

    /// <summary>Share of rings that stand like the one before, that are larger, and whose stroke is joined up with or cut by something else.</summary>
    private const double AlikeShare = 0.6;
    private const double LargerShare = 0.33;
    private const double OddShare = 0.07;

    /// <summary>How much larger the next ring may be: foot and top.</summary>
    private const double MostFoot = 1.7;
    private const double MostTop = 1.9;

    /// <summary>No stroke loses or gains more by its company, log-odds.</summary>
    private const double Most = 8;

    private readonly double _footSd;
    private readonly double _topSd;

    private RingSeries(double pxMm) =>
        (_footSd, _topSd) = (Math.Sqrt((FootSdMm * FootSdMm) + (0.36 * pxMm * pxMm)), Math.Sqrt((TopSdMm * TopSdMm) + (0.5 * pxMm * pxMm)));

    /// <summary>The strokes, by station, with log-odds that count how they keep with the likeliest series; as they are where there is none.</summary>
    /// <param name="rings">All strokes, by station.</param>
    /// <param name="pxMm">Size of a pixel.</param>
    public static List<StandingRing> Judged(IReadOnlyList<StandingRing> rings, double pxMm)
    {
        RingSeries series = new(pxMm);
        List<StandingRing> likeliest = series.Likeliest([.. rings.Where(r => r.Score >= LeastScore && r.Station > ClosestMm)]);
        return likeliest.Count < LeastRings ? [.. rings] : series.With(rings, likeliest);
    }

    /// <summary>The strokes with log-odds that count how they keep with these rings instead; as they are where these are too few.</summary>
    public static List<StandingRing> Judged(IReadOnlyList<StandingRing> rings, IReadOnlyList<StandingRing> series, double pxMm) =>
        series.Count < LeastRings ? [.. rings] : new RingSeries(pxMm).With(rings, series);

    private List<StandingRing> With(IReadOnlyList<StandingRing> rings, IReadOnlyList<StandingRing> series) =>
        [.. rings.Select(r => (Ring: r, Company: Keeping(r, series))).Select(r => r.Ring with { Score = r.Ring.Score - r.Ring.Company + r.Company, Company = r.Company })];

    /// <summary>The series with the largest log-odds: dynamic programming from the tip to the reel.</summary>
    private List<StandingRing> Likeliest(List<StandingRing> rings)
    {
        double[] best = new double[rings.Count];
        int[] before = new int[rings.Count];
        for (int j = 0; j < rings.Count; j++)
        {
            (best[j], before[j]) = (0, -1);
            for (int i = 0; i < j; i++)
            {
                double sum = best[i] + Next(rings[i], rings[j]);
                if (rings[j].Station - rings[i].Station >= ClosestMm && sum > best[j])
                    (best[j], before[j]) = (sum, i);
            }

            best[j] += rings[j].Score - RingCost;
        }

        List<StandingRing> series = [];
        for (int k = rings.Count == 0 ? -1 : Array.IndexOf(best, best.Max()); k >= 0; k = before[k])
            series.Add(rings[k]);
        series.Reverse();
        return series;
    }

    /// <summary>Log-odds of a stroke from the rings of the series before and after it, itself and what stands too near left out.</summary>
    private double Keeping(StandingRing ring, IReadOnlyList<StandingRing> series)
    {
        StandingRing? before = series.LastOrDefault(r => r.Station < ring.Station - ClosestMm);
        StandingRing? after = series.FirstOrDefault(r => r.Station > ring.Station + ClosestMm);
        double odds = (before, after) switch
        {
            ({ } b, { } a) => Next(b, ring) + Next(ring, a) - Next(b, a),
            ({ } b, null) => Next(b, ring),
            (null, { } a) => Next(ring, a),
            _ => 0,
        };
        return Math.Clamp(odds, -Most, Most);
    }

    /// <summary>Log-likelihood ratio of a ring that follows another towards the reel against clutter.</summary>
    private double Next(StandingRing from, StandingRing to) =>
        Math.Log(FeetMm * Density(to.FootMm, from.FootMm, MostFoot, _footSd, FeetMm)) + Math.Log(TopsMm * Density(to.TopMm, from.TopMm, MostTop, _topSd, TopsMm));

    private static double Density(double value, double from, double most, double sd, double clutterMm)
    {
        double z = (value - from) / sd;
        double alike = Math.Exp(-0.5 * z * z) / (sd * Math.Sqrt(2 * Math.PI));
        double outside = Math.Max(0, Math.Max(from - value, value - (most * from))) / sd;
        double larger = Math.Exp(-0.5 * outside * outside) / (((most - 1) * from) + (sd * Math.Sqrt(2 * Math.PI)));
        return (AlikeShare * alike) + (LargerShare * larger) + (OddShare / clutterMm);
    }
}

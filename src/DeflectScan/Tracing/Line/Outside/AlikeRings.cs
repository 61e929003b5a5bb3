using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line.Outside;

/// <summary>
/// Guides of one rod look alike: from those that stand out most plainly their look is learnt, and strokes that have it are likelier guides,
/// even where clutter behind them joins up with their stroke; among them strokes without it are likelier clutter.
/// </summary>
internal static class AlikeRings
{
    /// <summary>Log-odds of a stroke that the look is learnt from.</summary>
    private const double LearnFrom = 11;
    private const int LeastRings = 3;

    /// <summary>A peak of likeness this near a stroke, mm, is its own.</summary>
    private const double NearMm = 5;

    /// <summary>Share of the usual likeness that clutter reaches now and then, and how fast the odds grow above it, up to the most.</summary>
    private const double ClutterShare = 0.3;
    private const double OddsPerShare = 20;
    private const double MostOdds = 6;

    /// <summary>Guides of the usual kind stand up to the last place that is so much like them; what is there and not like them at all loses this.</summary>
    private const double UsualShare = 0.6;
    private const double UnlikeOdds = -4;

    /// <summary>A place without a stroke of its own that is so much like a guide is one.</summary>
    private const double OwnShare = 0.45;

    private const double ClosestMm = 30;

    /// <summary>The strokes, by station, with log-odds that count their look, and guides that showed no stroke; as they are where too few guides stand out.</summary>
    public static List<StandingRing> Judged(BandStrip strip, ForegroundMap map, IReadOnlyList<StandingRing> rings, double handleStation)
    {
        List<StandingRing> plain = [.. rings.Where(r => r.Score >= LearnFrom && r.Station > ClosestMm)];
        if (plain.Count < LeastRings)
            return [.. rings];
        RingSupport support = new(strip.Axis, strip, map, [.. plain.Select(r => strip.PlanePoint(r.Column, r.FootMm + 1))]);
        if (support.UsualLikeness <= 0)
            return [.. rings];
        List<(double Station, double Share)> peaks = support.Others(ClosestMm, handleStation);
        double last = peaks.Where(p => p.Share > UsualShare).Select(p => p.Station).DefaultIfEmpty(0).Max();
        List<StandingRing> judged = [];
        foreach (StandingRing ring in rings)
        {
            double share = peaks.Where(p => Math.Abs(p.Station - ring.Station) < NearMm).Select(p => p.Share).DefaultIfEmpty(0).Max();
            double odds = share > ClutterShare ? Odds(share) : ring.Station > ClosestMm && ring.Station < last ? UnlikeOdds : 0;
            judged.Add(ring with { Score = ring.Score + odds });
        }

        foreach ((double station, double share) in peaks.Where(p => p.Share > OwnShare && rings.All(r => Math.Abs(r.Station - p.Station) >= NearMm)))
        {
            StandingRing like = plain.MinBy(r => Math.Abs(r.Station - station))!;
            judged.Add(like with { Column = strip.ColumnOf(station), Station = station, Score = OutsideTrace.PlainScore + Odds(share) });
        }

        return [.. judged.OrderBy(r => r.Station)];
    }

    private static double Odds(double share) => Math.Min(MostOdds, OddsPerShare * (share - ClutterShare));
}

using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line.Outside;

/// <summary>The count of guides where line and rings were found together: the corners are the rings, but for those at which the line comes to lie on the blank.</summary>
internal static class OutsideCensus
{
    /// <summary>A taut line turns in a ring alone: where it turns by as much as this, radians, there is one.</summary>
    private const double PlainTurnRad = 0.018;

    /// <summary>An interval longer than these times its neighbour towards the reel (the last one: towards the tip) may be two.</summary>
    private const double LongShare = 1.25;
    private const double LongLastShare = 1.9;

    /// <summary>A vertex so near a stroke, mm, is at it.</summary>
    private const double NearMm = 6;
    private const double ClosestMm = 30;

    /// <summary>Log-odds below which a ring's look speaks against it, so that the line alone is for it: every ring has 7 to explain.</summary>
    private const double UnlikelyScore = 3;

    /// <summary>Log-odds below which a stroke is no guide, faint or not: what every ring must explain.</summary>
    private const double FaintScore = 0;

    public static GuideCensus Take(BlankAxis axis, RingSupport support, OutsideTrace found, IReadOnlyList<Vec2> line, IReadOnlyList<OutsideVertex> vertices, int tip, double side, double pxMm)
    {
        List<CornerSupport?> supports = [.. line.Select((v, i) => vertices[i].Ring is { } ring ? support.At(v, ring) : null)];
        List<double> doubts = [.. found.LeftOut(vertices, pxMm).Select(r => r.Station), .. GuideCensus.Wraps(axis, support, [.. line], tip, foundTogether: true), .. Hidden(axis, found, line, vertices, tip)];
        for (int i = 1; i < line.Count - 1; i++)
        {
            if (vertices[i].Ring is not { } ring)
                continue;
            bool hardlyTurns = supports[i] is { IsUsual: false } && !OutsideTrace.IsPlain(ring) && Turn(line, i) < PlainTurnRad;
            if (hardlyTurns || ring.Score < UnlikelyScore || found.Path.Contested.Contains(ring))
                doubts.Add(ring.Station);
        }

        return new GuideCensus([.. line], supports, doubts, axis, support.UsualLikeness > 0 || supports.All(s => s is null or { Cover: > 0.75 }))
        {
            OnBlank = [.. vertices.Select(v => v.LiesOnBlank ? v.Hold(axis, side) : null)],
        };
    }

    /// <summary>
    /// Where the line lies on the blank it is not seen, and a ring that is hardly seen either would make one of two intervals: they are in
    /// keeping with their neighbours, for intervals grow towards the reel (common practice, no source). Where the rings on both sides stand
    /// out plainly and between them nothing does, there is none.
    /// </summary>
    private static IEnumerable<double> Hidden(BlankAxis axis, OutsideTrace found, IReadOnlyList<Vec2> line, IReadOnlyList<OutsideVertex> vertices, int tip)
    {
        List<(double Station, bool Touches)> rings = [];
        bool touches = false;
        for (int i = tip; i < line.Count - 1; i++)
        {
            if (vertices[i].LiesOnBlank)
            {
                touches = true;
                continue;
            }

            rings.Add((axis.Curve.Nearest(line[i]).S, touches));
            touches = false;
        }

        for (int k = 1; k < rings.Count; k++)
        {
            double length = rings[k].Station - rings[k - 1].Station;
            bool isLong = k + 1 < rings.Count
                ? length > LongShare * (rings[k + 1].Station - rings[k].Station)
                : k > 1 && length > LongLastShare * (rings[k - 1].Station - rings[k - 2].Station);
            if (rings[k].Touches && isLong && !(Stands(found, rings[k - 1].Station) && Stands(found, rings[k].Station) && IsBare(found, rings[k - 1].Station, rings[k].Station)))
                yield return (rings[k].Station + rings[k - 1].Station) / 2;
        }
    }

    private static bool Stands(OutsideTrace found, double station) =>
        found.Candidates.Any(c => Math.Abs(c.Station - station) < NearMm && OutsideTrace.IsPlain(c)) || station < ClosestMm;

    private static bool IsBare(OutsideTrace found, double from, double to) =>
        found.Candidates.All(c => c.Station < from + ClosestMm || c.Station > to - ClosestMm || c.Score < FaintScore);

    private static double Turn(IReadOnlyList<Vec2> line, int i) =>
        Math.Abs(Math.Asin((line[i] - line[i - 1]).Normalized().Cross((line[i + 1] - line[i]).Normalized())));
}

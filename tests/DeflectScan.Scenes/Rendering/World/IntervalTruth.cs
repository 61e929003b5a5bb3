using System.Text.Json;
using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>The exact figures of each interval by plain dense sampling of the definitions: every 0.25 mm of the chord and of the axis.</summary>
public static class IntervalTruth
{
    private const double Step = 0.25;

    public static IReadOnlyList<TruthInterval> Of(RodBuild rod)
    {
        List<TruthInterval> all = [Between(rod, rod.Reel, rod.ReelFrontMm, rod.Contacts[0], rod.Stations[0], "reel", 1, wraps: false)];
        for (int i = 1; i < rod.Gates.Count; i++)
        {
            bool wraps = LinePath.Piece(rod, i).Count > 2;
            all.Add(Between(rod, rod.Contacts[i - 1], rod.Stations[i - 1], rod.Contacts[i], rod.Stations[i], i, i + 1, wraps));
        }

        return all;
    }

    private static TruthInterval Between(RodBuild rod, Vec2 a, double sA, Vec2 b, double sB, object from, object to, bool wraps)
    {
        (double gap, double gapAt, double axis, double clearance, double clearanceAt) = (double.MinValue, 0, 0, double.MaxValue, 0);
        int n = (int)Math.Ceiling(a.DistanceTo(b) / Step);
        double from0 = Math.Max(0, sA - 40);
        double to0 = Math.Min(rod.Blank.LengthMm, sB + 40);
        double s = sA;
        for (int i = 0; i <= n; i++)
        {
            Vec2 p = Vec2.Lerp(a, b, i / (double)n);
            s = Nearest(rod.Blank, p, i == 0 ? rod.Blank.NearestStation(p, from0, to0) : s, from0, to0);
            double away = rod.Blank.Point(s).DistanceTo(p);
            double free = away - rod.Blank.Taper.RadiusMm(s);
            axis = Math.Max(axis, away);
            if (free < clearance)
                (clearance, clearanceAt) = (free, s);
            if (free > gap)
                (gap, gapAt) = (free, s);
        }

        (double bow, double bowAt) = Bow(rod.Blank, sA, sB);
        return new TruthInterval(
            JsonSerializer.SerializeToElement(from), JsonSerializer.SerializeToElement(to), a.DistanceTo(b), gap, gapAt, axis, clearance, bow, wraps, clearanceAt, bowAt);
    }

    private static double Nearest(BentBlank blank, Vec2 p, double s, double low, double high)
    {
        for (int i = 0; i < 12; i++)
        {
            double step = blank.Tangent(s).Dot(p - blank.Point(s));
            s = Math.Clamp(s + step, low, high);
            if (Math.Abs(step) < 1e-7)
                break;
        }

        return s;
    }

    private static (double Mm, double AtMm) Bow(BentBlank blank, double sA, double sB)
    {
        Vec2 a = blank.Point(sA);
        Vec2 normal = (blank.Point(sB) - a).Normalized().Perpendicular;
        (double bow, double at) = (0, sA);
        for (double s = sA; s < sB; s += Step)
        {
            double off = Math.Abs(normal.Dot(blank.Point(s) - a));
            if (off > bow)
                (bow, at) = (off, s);
        }

        return (bow, at);
    }
}

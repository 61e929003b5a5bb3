using DeflectScan.Tracing;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>Guides of a built-up rod: heights fall from the first to the last, rings follow the heights, each stands a little its own way.</summary>
public static class WideLayout
{
    /// <summary>No ring's opening reaches farther from the axis: 85 mm is as high as guides of large spinning reels stand (common practice, no source).</summary>
    private const double MostMm = 85;

    public static IReadOnlyList<GuidePlan> Of(SceneOptions o, BuildOptions b, Taper taper)
    {
        Random r = new(unchecked((o.Seed * 27701) + 9));
        int n = o.Guides;
        double span = o.BlankLengthMm - (o.VisibleFromMm - 104) - Math.Min(380 + (330 * r.NextDouble()), 0.42 * o.BlankLengthMm);
        double[] gaps = GuideLayout.Spacings(n, 60 + (60 * r.NextDouble()), span);
        double station = o.BlankLengthMm - span;
        List<GuidePlan> plans = [];
        for (int i = 0; i < n; i++)
        {
            double room = Math.Min(i == 0 ? gaps[0] : gaps[i - 1], gaps[i]);
            double at = station + (o.Unevenness * 0.4 * room * Either(r));
            if (o.Moved is { } moved && moved.Guide == i + 1)
                at += moved.Mm;
            double wanted = b.LastHeightMm + ((b.FirstHeightMm - b.LastHeightMm) * Math.Pow(b.HeightFall, i) * (n > 1 ? 1 - (i / (n - 1.0)) : 1));
            double radius = taper.RadiusMm(at);
            double outer = Math.Clamp(wanted * b.RingByHeight, 4.5, 46);
            double height = Math.Max(Math.Min(wanted, MostMm - (GuideLayout.Inner(outer) / 2)), (outer / 2) + radius + 0.9);
            bool two = outer > b.SingleFootBelowMm;
            plans.Add(new GuidePlan(at, height, outer, GuideLayout.Inner(outer))
            {
                LeanDeg = b.LeanDeg + (3 * Either(r)),
                TwistDeg = b.TwistDeg * Either(r),
                AskewDeg = b.AskewDeg * Either(r),
                Feet = Feet(height, two, b.FootForward, r),
            });
            station += gaps[i];
        }

        double tip = 4.5 + (3 * r.NextDouble());
        plans.Add(new GuidePlan(o.BlankLengthMm, (tip / 2) + 1 + r.NextDouble(), tip, GuideLayout.Inner(tip)) { TwistDeg = b.TwistDeg * Either(r) });
        return plans;
    }

    private static double Either(Random r) => (2 * r.NextDouble()) - 1;

    private static (double From, double To)[] Feet(double height, bool two, bool forward, Random r)
    {
        double foot = 7 + (0.15 * height) + (4 * r.NextDouble());
        double back = (0.25 + (0.4 * r.NextDouble())) * height;
        double front = (0.25 + (0.35 * r.NextDouble())) * height;
        if (two)
            return [(-back - 2 - foot, -back - 2), (front + 2, front + 2 + foot)];
        return forward ? [(front + 2, front + 2 + foot)] : [(-back - 2 - foot, -back - 2)];
    }
}

using DeflectScan.Tracing;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>A guide before it is put on the bent blank.</summary>
/// <param name="StationMm">s from the butt.</param>
/// <param name="HeightMm">Ring centre above the axis.</param>
/// <param name="OuterMm">Ring's outer diameter.</param>
/// <param name="InnerMm">Ring's inner diameter.</param>
public sealed record GuidePlan(double StationMm, double HeightMm, double OuterMm, double InnerMm)
{
    /// <summary>Tilt of the ring in the rod plane, turn about the blank's axis, turn about the guide's own height; degrees.</summary>
    public double LeanDeg { get; init; }

    public double TwistDeg { get; init; }

    public double AskewDeg { get; init; }

    /// <summary>Where its feet lie on the blank, mm from the station, towards the tip positive.</summary>
    public IReadOnlyList<(double From, double To)> Feet { get; init; } = [];
}

/// <summary>Guide stations and ring sizes of an ordinary build (common practice, no source): spacing and rings shrink towards the tip.</summary>
public static class GuideLayout
{
    private static readonly double[] SpinningRings = [25, 12, 8, 6.5];
    private static readonly double[] CastingRings = [12, 8, 7, 6];

    public static IReadOnlyList<GuidePlan> Of(SceneOptions o, Taper taper)
    {
        Random r = new(unchecked((o.Seed * 31337) + 5));
        bool outside = o.Side == BendSide.Outside;
        int n = o.Guides;
        double last = 80 + (25 * r.NextDouble());
        double span = o.BlankLengthMm - (o.VisibleFromMm - 104) - (550 + (60 * r.NextDouble()) - (n > 8 ? 80 : 0));
        double[] gaps = Spacings(n, last, span);
        List<GuidePlan> plans = [];
        double station = o.BlankLengthMm - span;
        double[] rings = outside ? CastingRings : SpinningRings;
        for (int i = 0; i < n; i++)
        {
            double room = Math.Min(i == 0 ? gaps[0] : gaps[i - 1], gaps[i]);
            double at = station + (o.Unevenness * 0.4 * room * ((2 * r.NextDouble()) - 1));
            if (o.Moved is { } moved && moved.Guide == i + 1)
                at += moved.Mm;
            double outer = rings[Math.Min(i, rings.Length - 1)] * (i == 0 ? 0.8 + (0.4 * r.NextDouble()) : 1);
            double height = Math.Max((outer * 0.98) + 1.9, (outer / 2) + taper.RadiusMm(at) + 2.2);
            plans.Add(new GuidePlan(at, height, outer, Inner(outer)));
            station += gaps[i];
        }

        plans.Add(new GuidePlan(o.BlankLengthMm, 4, 6, Inner(6)));
        return plans;
    }

    internal static double Inner(double outer) => (0.84 * outer) - 0.7;

    // A geometric row with the smallest spacing at the tip that fills the span; when there are few guides, simply wider.
    internal static double[] Spacings(int n, double last, double span)
    {
        double low = 1;
        double high = 3;
        double smallest = Math.Min(last, span / n * 0.95);
        for (int i = 0; i < 100; i++)
        {
            double q = (low + high) / 2;
            if (Enumerable.Range(0, n).Sum(k => smallest * Math.Pow(q, k)) < span)
                low = q;
            else
                high = q;
        }

        double[] gaps = [.. Enumerable.Range(0, n).Select(k => smallest * Math.Pow(low, n - 1 - k))];
        return gaps;
    }
}

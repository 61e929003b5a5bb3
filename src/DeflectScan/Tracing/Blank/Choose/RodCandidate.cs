using DeflectScan.Geometry;
using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Blank;

/// <summary>A bar followed from end to end on the photo, with what tells a blank from other bars.</summary>
/// <param name="Bar">From butt to tip.</param>
/// <param name="Fit">The last fit; its stations are those of <paramref name="Readings"/>.</param>
/// <param name="Readings">The last readings, in order from butt to tip.</param>
/// <param name="Sights">How surely each reading shows the bar.</param>
/// <param name="BlurPx">Blur of the edges over the thick part, sigma in px.</param>
/// <param name="HandleShare">Share, 0 to 1, of the stretch beyond the butt end that is a much thicker bar.</param>
internal sealed record RodCandidate(
    TracedBar Bar, AxisFit Fit, IReadOnlyList<BarStation> Readings, Sight[] Sights, double BlurPx, double HandleShare)
{
    /// <summary>How surely the network sees the blank at each reading; none where it did not propose the bar.</summary>
    public IReadOnlyList<double> Proposed { get; init; } = [];

    /// <summary>Where the network sees the blank's body; null where it did not propose the bar.</summary>
    public SeenBody? Body { get; init; }

    /// <summary>The last readings with the edges that the body's outline shut out; what these leave open is uncertain. As <see cref="Readings"/> where there is no body.</summary>
    public IReadOnlyList<BarStation> Ungated { get; init; } = Readings;

    /// <summary>Probability, by the network, that the blank is seen at each reading; none where it did not propose the bar.</summary>
    public IReadOnlyList<double> BodySure { get; init; } = [];

    /// <summary>Share of the readings at which the network sees the blank's body.</summary>
    public double BodyShare => (double)BodySure.Count(p => p > 0.5) / Math.Max(1, BodySure.Count);

    /// <summary>Logarithm of the probability, by the network, that both ends of what it proposed are the blank's.</summary>
    public double EndsLogProbability { get; init; }

    /// <summary>How well network and photo together speak for a proposed bar, a logarithm: a wrong end makes a short bar that is all blank.</summary>
    public double Agreement => EndsLogProbability + (4 * Proposed.Average(p => Math.Log(Math.Max(p, 0.02)))) + (4 * Math.Log(Math.Max(BodyShare, 0.02)));

    /// <summary>Share of the length over which both edges were seen.</summary>
    public double Support { get; } = (double)Sights.Count(s => s == Sight.Bar) / Math.Max(1, Sights.Length);

    /// <summary>Turning from butt to tip in radians, counter-clockwise positive.</summary>
    public double Turn { get; } = Enumerable.Range(1, 20).Sum(i =>
        BarStroke.TurnBetween(Bar.Curve.Tangent(Bar.Length * (i - 1) / 20), Bar.Curve.Tangent(Bar.Length * i / 20)));

    public double ButtDiameterMm => 2 * Bar.Radius(0);

    public double TipDiameterMm => 2 * Bar.Radius(Bar.Length);

    /// <summary>Median contrast to the weaker side, linear light.</summary>
    public double Contrast { get; } = OrderStatistics.Middle(Seen(Readings, Sights).Select(r => r.Score), none: 0);

    /// <summary>Median background scatter as a share of the step.</summary>
    public double Noise { get; } = OrderStatistics.Middle(Readings.Where(r => r.BothSeen).Select(r => r.Noise), none: 0);

    /// <summary>
    /// Share of the seen stations that could be a shadow: darker than the wall by one factor in all three colours, neither black nor faint.
    /// </summary>
    public double ShadowShare { get; } = ShareOfShadow(Seen(Readings, Sights));

    /// <summary>Millimetres of blank-like bar: what candidates are compared by.</summary>
    /// <param name="strongest">The largest contrast of all candidates: a shadow is fainter than what throws it.</param>
    /// <param name="mayBeStraight">The rod is at rest, so its bend tells nothing.</param>
    public double Rate(double strongest, bool mayBeStraight)
    {
        double taper = Math.Clamp(Math.Log(ButtDiameterMm / TipDiameterMm) / 0.7, 0.05, 1);
        double bent = mayBeStraight ? 1 : Math.Clamp(Math.Abs(Turn) / 0.35, 0.2, 1);
        double possible = Math.Abs(Turn) < 2.6 ? 1 : 0.3;
        double contrast = Math.Sqrt(Contrast / Math.Max(strongest, 1e-9));
        return Bar.Length * Support * taper * bent * possible * contrast * (0.7 + (0.3 * HandleShare)) * (1 - (0.35 * ShadowShare));
    }

    private static IEnumerable<BarStation> Seen(IReadOnlyList<BarStation> readings, Sight[] sights) =>
        readings.Where((_, i) => sights[i] == Sight.Bar);

    private static double ShareOfShadow(IEnumerable<BarStation> seen)
    {
        int all = 0;
        int like = 0;
        foreach (BarStation r in seen)
        {
            all++;
            double b = r.Core.B / Math.Max(r.Around.B, 1e-4);
            double g = r.Core.G / Math.Max(r.Around.G, 1e-4);
            double red = r.Core.R / Math.Max(r.Around.R, 1e-4);
            double least = Math.Min(b, Math.Min(g, red));
            double most = Math.Max(b, Math.Max(g, red));
            if (least > 0.2 && most < 0.97 && most - least < 0.12)
                like++;
        }

        return all == 0 ? 0 : (double)like / all;
    }
}

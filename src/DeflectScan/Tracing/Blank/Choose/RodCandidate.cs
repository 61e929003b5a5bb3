using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Blank;

/// <summary>A bar followed from end to end on the photo, with what tells a blank from other bars.</summary>
/// <param name="Bar">From butt to tip.</param>
/// <param name="Fit">The last fit; its stations are those of <paramref name="Readings"/>.</param>
/// <param name="Readings">The last readings, in order from butt to tip.</param>
/// <param name="Sights">How surely each reading shows the bar.</param>
/// <param name="BlurPx">Blur of the edges over the thick part, sigma in px.</param>
/// <param name="HandleShare">Share, 0 to 1, of the stretch beyond the butt end that is a much thicker bar.</param>
/// <param name="Body">Where the network sees the blank's body.</param>
/// <param name="Ungated">The last readings with the edges that the body's outline shut out; what these leave open is uncertain.</param>
/// <param name="Proposed">How surely the network sees the blank at each reading in the whole photo, 0 to 1.</param>
/// <param name="BodySure">Probability, by the network on the strip, that the blank is seen at each reading.</param>
/// <param name="EndsLogProbability">Logarithm of the probability, by the network, that both ends of what it proposed are the blank's.</param>
internal sealed record RodCandidate(
    TracedBar Bar, AxisFit Fit, IReadOnlyList<BarStation> Readings, Sight[] Sights, double BlurPx, double HandleShare,
    SeenBody Body, IReadOnlyList<BarStation> Ungated, IReadOnlyList<double> Proposed, IReadOnlyList<double> BodySure, double EndsLogProbability)
{
    /// <summary>Whether the network sees the tip elsewhere, beside this bar, at odds that cannot be left aside.</summary>
    public bool HasOtherTip { get; init; }

    /// <summary>Share of the readings at which the network sees the blank's body.</summary>
    public double BodyShare => (double)BodySure.Count(p => p > 0.5) / Math.Max(1, BodySure.Count);

    /// <summary>How well network and photo together speak for a proposed bar, a logarithm: a wrong end makes a short bar that is all blank.</summary>
    public double Agreement => EndsLogProbability + (4 * Proposed.Average(p => Math.Log(Math.Max(p, 0.02)))) + (4 * Math.Log(Math.Max(BodyShare, 0.02)));

    /// <summary>Share of the length over which both edges were seen.</summary>
    public double Support { get; } = (double)Sights.Count(s => s == Sight.Bar) / Math.Max(1, Sights.Length);

    /// <summary>Turning from butt to tip in radians, counter-clockwise positive.</summary>
    public double Turn { get; } = Enumerable.Range(1, 20).Sum(i => Bar.Curve.Tangent(Bar.Length * (i - 1) / 20).TurnTo(Bar.Curve.Tangent(Bar.Length * i / 20)));

    public double TipDiameterMm => 2 * Bar.Radius(Bar.Length);
}

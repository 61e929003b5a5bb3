using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Layout.OnRings;

namespace DeflectScan.Desk;

/// <summary>What the line does to one guide.</summary>
/// <param name="Guide">Counted from 1 at the reel.</param>
/// <param name="Kind">"guide" or "tip".</param>
/// <param name="StationMm">From the tip.</param>
/// <param name="LineAngleDeg">The angle that the line turns through there, by its own path (over the blank where it lies on it).</param>
/// <param name="PullReelwardN">Pull in the line on the reel's side.</param>
/// <param name="PullTipwardN">Pull on the tip's side.</param>
/// <param name="LoadN">Force on the ring.</param>
/// <param name="Share">Part of the sum of all rings' loads, 0 to 1.</param>
/// <param name="Kink">The line turns far more here than at the guides beside it.</param>
public sealed record RingFigures(
    int Guide, string Kind, double StationMm, double LineAngleDeg, double PullReelwardN, double PullTipwardN, double LoadN, double Share, bool Kink);

/// <summary>Where the line lies on the blank. Stations in mm from the tip.</summary>
/// <param name="From">The guide nearer to the reel.</param>
/// <param name="To">The guide nearer to the tip.</param>
/// <param name="StartMm">Where it comes to lie on the blank.</param>
/// <param name="EndMm">Where it leaves it.</param>
/// <param name="WrapDeg">The angle that it turns through there.</param>
public sealed record OnBlank(int From, int To, double StartMm, double EndMm, double WrapDeg);

/// <summary>The bend at which a line outside the bend comes to touch the blank.</summary>
/// <param name="OfMeasuredBend">As a multiple of the measured bend, the blank keeping the form of its bend: below 1 it touches already.</param>
/// <param name="TipTurnDeg">Turning of the blank over the measured axis at that bend.</param>
/// <param name="From">The pair that touches first: its guide nearer to the reel.</param>
public sealed record TouchOnset(double OfMeasuredBend, double TipTurnDeg, int From);

/// <summary>The line on the rings of a measured rod at a given pull.</summary>
/// <param name="PullN">Pull in the line beyond the tip-top.</param>
/// <param name="Friction">Coefficient of friction of line on ring (and on the blank).</param>
/// <param name="Motion">Which way the line runs.</param>
/// <param name="Rings">From the reel to the tip-top; a ring at which it is not known where the line comes from or goes to is left out.</param>
/// <param name="PullAtReelN">Pull on the reel's side of the first ring.</param>
/// <param name="FrictionFactor">Ratio of the pulls at both ends, 1 or more: what friction costs.</param>
/// <param name="OnBlank">Where the line lies on the blank.</param>
/// <param name="TipTurnDeg">Turning of the blank over the measured axis as measured.</param>
/// <param name="Onset">Outside the bend: at what bend the line touches the blank; null when far beyond the measured one, and inside the bend.</param>
/// <param name="Notes">What a person should know: one plain sentence each.</param>
public sealed record RingsReport(
    double PullN,
    double Friction,
    LineMotion Motion,
    IReadOnlyList<RingFigures> Rings,
    double PullAtReelN,
    double FrictionFactor,
    IReadOnlyList<OnBlank> OnBlank,
    double TipTurnDeg,
    TouchOnset? Onset,
    IReadOnlyList<string> Notes)
{
    /// <summary>Largest multiple of the measured bend at which contact is looked for.</summary>
    public const double FarthestBend = 2.5;

    /// <summary>The report.</summary>
    /// <param name="rod">The rod as measured.</param>
    /// <param name="options">Pull, friction, motion.</param>
    /// <param name="lineDiameterMm">The line's thickness; its path is that of its centre.</param>
    public static RingsReport Of(MeasuredLayout rod, LineLoadOptions options, double lineDiameterMm)
    {
        LinePath path = LinePath.Taut(rod.Shape, rod.Rings, rod.Side, lineDiameterMm / 2);
        LineLoads loads = LineLoads.Of(path, options, rod.LineFromMm, rod.LineToMm);
        ContactOnset? onset = rod.Side == GuideSide.Outside ? ContactOnset.Find(rod.Shape, rod.Rings, rod.Side, FarthestBend) : null;
        int tip = rod.Rings.Count - 1;
        RingFigures[] rings =
        [
            .. loads.Rings.Select(l => new RingFigures(
                l.Ring + 1, l.Ring == tip ? "tip" : "guide", rod.Rings[l.Ring].StationMm, l.LineAngleDeg, l.PullReelwardN, l.PullTipwardN, l.LoadN, l.Share, l.IsKink)),
        ];
        return new RingsReport(
            options.PullN,
            options.Friction,
            options.Motion,
            rings,
            loads.PullAtReelN,
            loads.FrictionFactor,
            [.. path.Contacts.Select(c => new OnBlank(c.FromRing + 1, c.FromRing + 2, c.StartMm, c.EndMm, c.WrapDeg))],
            rod.Shape.TurnDeg,
            onset is null ? null : new TouchOnset(onset.Scale, onset.TipTurnDeg, onset.FromRing + 1),
            [.. Says(rod, options, rings)]);
    }

    private static IEnumerable<string> Says(MeasuredLayout rod, LineLoadOptions options, RingFigures[] rings)
    {
        yield return "The loads are those of this bend: another pull bends the blank otherwise, and the pull here does not bend it.";
        if (options.Motion == LineMotion.Still)
            yield return "The line does not slip, so friction is left out: the pull is the same all along.";
        foreach (RingFigures kink in rings.Where(r => r.Kink))
            yield return $"Kink at guide {kink.Guide}: the line turns through {kink.LineAngleDeg:0.0}°, far more than at the guides beside it; move it or one beside it.";
        JudgedLayout measured = JudgedLayout.Measured(rod);
        foreach (JudgedPair p in measured.Pairs.Where(p => p.MayTouch))
        {
            yield return $"Whether the line touches the blank between guide {p.From} and {(measured.Guides[p.To - 1].IsTip ? "the tip-top" : $"guide {p.To}")} lies within the uncertainty "
                + $"(clearance {p.ClearanceMm:0.0} ± {UnitsText.RoundedUp(p.ClearanceUncertaintyMm, 0.1):0.0} mm).";
        }

        if (rod.LineFromMm is null)
            yield return "Where the line comes from before guide 1 is not known: guide 1 is left out.";
        if (rod.LineToMm is null)
            yield return "Where the line goes beyond the tip-top is not known: the tip-top is left out.";
        if (rod.Measurement.Status == MeasurementStatus.NeedsReview)
            yield return "The measurement needs review: look at its warnings before trusting these figures.";
    }
}

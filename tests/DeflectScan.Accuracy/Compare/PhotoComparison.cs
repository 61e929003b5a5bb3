namespace DeflectScan.Accuracy.Compare;

/// <summary>A measured figure beside the true one.</summary>
/// <param name="Where">Which guide or pair, by the truth's numbers: "3" or "3-4".</param>
/// <param name="True">True value in mm.</param>
/// <param name="Measured">Measured value in mm.</param>
/// <param name="Uncertainty">Stated expanded uncertainty, 95 %, in mm.</param>
/// <param name="FromTipMm">True distance from the tip along the blank (of a pair: of its end nearer the reel).</param>
public sealed record FigureError(string Where, double True, double Measured, double Uncertainty, double FromTipMm)
{
    public double Error => Measured - True;

    public double Size => Math.Abs(Error);

    public bool IsCovered => Size <= Uncertainty;
}

/// <summary>One photo's measurement beside its truth. Lists are empty where nothing was measured.</summary>
/// <param name="Name">Folder of the photo.</param>
/// <param name="ExpectsOk">The photo can be measured.</param>
/// <param name="Status">What the measurement says of itself.</param>
/// <param name="Codes">Codes of its findings that are not mere notes.</param>
/// <param name="StatusRight">Good photo: ok. Bad photo: refused or in review with a right code.</param>
/// <param name="CardsTrue">Cards in the scene.</param>
/// <param name="Guides">Which guides were found.</param>
/// <param name="AxisPx">Perpendicular distance of the measured axis from the true one, every 5 mm of bare blank that it spans.</param>
/// <param name="AxisSpan">Share of the bare blank that the measured axis spans, 0 to 1.</param>
/// <param name="DiameterMm">Measured less true diameter, same places.</param>
/// <param name="Gaps">Per pair, first guide to tip.</param>
/// <param name="Bows">Per pair.</param>
/// <param name="Stations">Per guide, the tip-top left out.</param>
/// <param name="RingPx">Per guide and tip-top: distance of the contact point.</param>
/// <param name="LargestGapRight">The named pair is the true one or within 0.5 mm of it; null where none was named.</param>
/// <param name="LargestBowRight">The same for the bow.</param>
/// <param name="Seconds">Wall time, 0 where it was not measured here.</param>
/// <param name="Stages">Milliseconds a stage, in order.</param>
public sealed record PhotoComparison(
    string Name,
    bool ExpectsOk,
    MeasurementStatus Status,
    IReadOnlyList<string> Codes,
    bool StatusRight,
    int CardsTrue,
    GuideMatch Guides,
    IReadOnlyList<double> AxisPx,
    double AxisSpan,
    IReadOnlyList<double> DiameterMm,
    IReadOnlyList<FigureError> Gaps,
    IReadOnlyList<FigureError> Bows,
    IReadOnlyList<FigureError> Stations,
    IReadOnlyList<double> RingPx,
    bool? LargestGapRight,
    bool? LargestBowRight,
    double Seconds = 0,
    IReadOnlyList<StageTime>? Stages = null)
{
    /// <summary>Figures outside what was stated and outside 2 mm, and a guide count that is not the true one: nothing of this may stand under ok.</summary>
    public IReadOnlyList<string> Wrong =>
    [
        .. Guides.Missed.Select(g => $"guide {g} missed"),
        .. Guides.False.Select(g => $"guide {g} is none"),
        .. Wrongs("gap", Gaps),
        .. Wrongs("bow", Bows),
        .. Wrongs("station", Stations),
    ];

    private static IEnumerable<string> Wrongs(string what, IReadOnlyList<FigureError> errors) =>
        errors.Where(e => !(e.Size <= Math.Max(2, e.Uncertainty))).Select(e => $"{what} {e.Where} off by {e.Error:+0.0;-0.0} mm (stated {e.Uncertainty:0.0})");
}

/// <summary>Time that a stage took.</summary>
public sealed record StageTime(string Stage, double Milliseconds);

using DeflectScan.Findings;
using DeflectScan.Mechanics.Stiffness;

namespace DeflectScan.Bending;

/// <summary>The blank at one station. Uncertainties expanded, 95 %, as shares.</summary>
/// <param name="StationMm">From the tip.</param>
/// <param name="StiffnessNm2">EI in N·m²; null without a scale.</param>
/// <param name="StiffnessOverLoadM2">EI over the photographed pull, m².</param>
/// <param name="UncertaintyShare">Of EI where the load is known, else of the ratio.</param>
/// <param name="IsTold">False where the photos do not tell it and the figure is the profile's smooth continuation.</param>
/// <param name="CurvaturePerM">At the photographed load, 1/m.</param>
public sealed record StiffnessAt(double StationMm, double? StiffnessNm2, double StiffnessOverLoadM2, double UncertaintyShare, bool IsTold, double CurvaturePerM);

/// <summary>The load that turns the tip by an angle in the standard bend, and where the blank then turns.</summary>
public sealed record LoadToTurn(double TipTurnDeg, double? LoadN, double LoadFactor, double LoadUncertaintyShare, TurningShares Turning, TurningShares TurningUncertainty);

/// <summary>One blank in plain engineering terms.</summary>
/// <param name="Name">What the document's photo is called.</param>
/// <param name="Blank">What the photos tell.</param>
/// <param name="MeasuredTipTurnDeg">Of the photographed bend.</param>
/// <param name="MeasuredTurning">Shares of the photographed bend's turning in the tip, middle and butt third.</param>
public sealed record BlankFigures(
    string Name,
    KnownOfBlank Blank,
    double MeasuredTipTurnDeg,
    TurningShares MeasuredTurning,
    IReadOnlyList<StiffnessAt> Stations,
    IReadOnlyList<LoadToTurn> Loads,
    IReadOnlyList<string> Warnings)
{
    /// <summary>
    /// Fast, moderate or slow, by where it turns in the photographed bend: fast where the tip third takes more than half of the turning, slow where it takes
    /// less than a third (the words are common practice, no source; the limits are our own judgement).
    /// </summary>
    public string InWords
    {
        get
        {
            TurningShares t = MeasuredTurning;
            (string action, string where) = t.Tip > 0.5 ? ("Fast", "it bends mostly in the tip third")
                : t.Tip < 1.0 / 3 ? ("Slow", t.Butt >= t.Middle ? "it bends deep into the butt third" : "it bends mostly in the middle third")
                : ("Moderate", t.Middle >= t.Tip ? "it bends mostly in the middle third" : "it bends in the tip and the middle third");
            return FormattableString.Invariant($"{action} under this load: {where}.");
        }
    }

    /// <summary>The figures, or a refusal.</summary>
    /// <param name="name">What to call it.</param>
    /// <param name="estimate">The blank.</param>
    /// <param name="stationsMm">Stations from the tip; null for twenty even steps.</param>
    /// <param name="tipTurnsDeg">Tip turns of the standard bend; null for 30, 60 and 90.</param>
    public static Outcome<BlankFigures> Of(string name, Outcome<StiffnessEstimate> estimate, IReadOnlyList<double>? stationsMm = null, IReadOnlyList<double>? tipTurnsDeg = null)
    {
        if (estimate.Value is not { } blank)
            return Outcome<BlankFigures>.Refused(estimate.Findings);
        if (stationsMm?.FirstOrDefault(s => s > blank.LengthMm + 0.5) is { } off and > 0)
            return Outcome<BlankFigures>.Refused(FindingCode.RodNotFound, $"{off:0} mm from the tip is off the blank: it was measured over {blank.LengthMm:0} mm.");
        Outcome<BlankDescription> described = BlankDescriber.Describe(blank, stationsMm, tipTurnsDeg);
        if (described.Value is not { } d)
            return Outcome<BlankFigures>.Refused(described.Findings);
        return Outcome<BlankFigures>.Of(
            new BlankFigures(
                name,
                BendStudy.KnownOfBlankOf(blank),
                blank.Photos[blank.ReferencePhoto].TipTurnDeg,
                d.MeasuredTurning,
                [.. d.Stations.Select(s => new StiffnessAt(s.StationMm, s.StiffnessNmm2 / 1e6, s.RatioMm2 / 1e6, 2 * s.SdShare, s.IsTold, s.CurvaturePerM))],
                [.. d.Loads.Select(l => new LoadToTurn(l.TipTurnDeg, l.LoadN, l.LoadFactor, 2 * l.LoadSdShare, l.Turning, Twice(l.TurningSd)))],
                [.. estimate.Findings.Select(f => f.Message)]),
            [.. estimate.Findings]);
    }

    private static TurningShares Twice(TurningShares sd) => new(2 * sd.Tip, 2 * sd.Middle, 2 * sd.Butt);
}

/// <summary>Two blanks at the same share of their lengths; uncertainty expanded, 95 %, as a share of the ratio.</summary>
public sealed record StiffnessRatio(double ShareFromTip, double Ratio, double UncertaintyShare, bool IsTold);

/// <summary>Two blanks at the same tip turn of the standard bend; the ratio is null unless both loads are known.</summary>
public sealed record LoadRatioAtTurn(double TipTurnDeg, double? Ratio, double UncertaintyShare);

/// <summary>The second blank over the first.</summary>
/// <param name="IsAbsolute">Both loads are known: ratios of EI and of loads in N; else EI over each one's own photographed pull.</param>
public sealed record BlanksCompared(bool IsAbsolute, IReadOnlyList<StiffnessRatio> Stations, IReadOnlyList<LoadRatioAtTurn> Loads)
{
    public static Outcome<BlanksCompared> Of(StiffnessEstimate first, StiffnessEstimate second)
    {
        Outcome<BlankComparison> compared = BlankDescriber.Compare(first, second);
        return compared.Value is not { } c
            ? Outcome<BlanksCompared>.Refused(compared.Findings)
            : Outcome<BlanksCompared>.Of(new BlanksCompared(
                c.IsAbsolute,
                [.. c.Stations.Select(s => new StiffnessRatio(s.ShareFromTip, s.StiffnessRatio, 2 * s.SdShare, s.IsTold))],
                [.. c.Loads.Select(l => new LoadRatioAtTurn(l.TipTurnDeg, l.LoadRatio, 2 * l.LoadRatioSdShare))]));
    }
}

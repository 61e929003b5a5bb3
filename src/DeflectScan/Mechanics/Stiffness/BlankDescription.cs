namespace DeflectScan.Mechanics.Stiffness;

/// <summary>How much of a bend's turning lies in each third of the free length; the three sum to 1.</summary>
public sealed record TurningShares(double Tip, double Middle, double Butt)
{
    /// <summary>Of a bend: change of direction over each third, over the whole.</summary>
    public static TurningShares Of(Bend bend)
    {
        double length = bend.StationsMm[^1];
        double tip = bend.AngleAt(0);
        double upper = bend.AngleAt(length / 3);
        double lower = bend.AngleAt(2 * length / 3);
        double clamp = bend.AngleAt(length);
        double all = tip - clamp;
        return new TurningShares((tip - upper) / all, (upper - lower) / all, (lower - clamp) / all);
    }
}

/// <summary>The blank at one station.</summary>
/// <param name="StationMm">From the tip, mm.</param>
/// <param name="RatioMm2">EI over the reference pull, mm².</param>
/// <param name="StiffnessNmm2">EI in N·mm²; null when no load was read.</param>
/// <param name="SdShare">One standard uncertainty as a share (of EI when the load is known, else of the ratio).</param>
/// <param name="IsTold">False where the photos do not tell it and the figure is the profile's continuation.</param>
/// <param name="CurvaturePerM">Curvature in 1/m at the reference load, positive in the bend's sense.</param>
public sealed record StationFigure(
    double StationMm, double RatioMm2, double? StiffnessNmm2, double SdShare, bool IsTold, double CurvaturePerM);

/// <summary>The pull that turns the tip by a given angle in the standard bend, and where the bend then lies.</summary>
/// <param name="TipTurnDeg">The angle.</param>
/// <param name="LoadFactor">Pull over the reference pull.</param>
/// <param name="LoadN">In N, when the reference load is known.</param>
/// <param name="LoadSdShare">One standard uncertainty of the pull as a share (of the factor when the load is not known).</param>
/// <param name="Turning">Where it turns.</param>
/// <param name="TurningSd">One standard uncertainty of each share.</param>
public sealed record TipTurnFigure(
    double TipTurnDeg, double LoadFactor, double? LoadN, double LoadSdShare, TurningShares Turning, TurningShares TurningSd);

/// <summary>
/// A blank in plain figures. The standard bend is that of the blank alone, straight and without weight, pulled at the tip at 135 degrees to
/// the butt's direction, as a weight hangs from a rod held at 45 degrees; so two blanks compare whatever their set-ups.
/// </summary>
/// <param name="Stations">From tip to clamp.</param>
/// <param name="Loads">By tip turn, ascending.</param>
/// <param name="MeasuredTurning">Where the reference photo's bend turns.</param>
public sealed record BlankDescription(IReadOnlyList<StationFigure> Stations, IReadOnlyList<TipTurnFigure> Loads, TurningShares MeasuredTurning);

/// <summary>Two blanks at the same share of their lengths.</summary>
/// <param name="ShareFromTip">0 at the tip, 1 at the clamp.</param>
/// <param name="StiffnessRatio">Second over first: of EI when both loads are known, else of EI over the reference pulls.</param>
/// <param name="SdShare">One standard uncertainty as a share of the ratio.</param>
/// <param name="IsTold">Both are told by their photos there.</param>
public sealed record StationRatio(double ShareFromTip, double StiffnessRatio, double SdShare, bool IsTold);

/// <summary>Two blanks at the same tip turn.</summary>
/// <param name="TipTurnDeg">The tip turn.</param>
/// <param name="LoadRatio">Second over first, in N; null unless both loads are known.</param>
/// <param name="LoadRatioSdShare">One standard uncertainty as a share of the ratio.</param>
/// <param name="First">Where the first turns.</param>
/// <param name="Second">Where the second turns.</param>
public sealed record TipTurnRatio(double TipTurnDeg, double? LoadRatio, double LoadRatioSdShare, TurningShares First, TurningShares Second);

/// <summary>Two blanks against each other.</summary>
public sealed record BlankComparison(IReadOnlyList<StationRatio> Stations, IReadOnlyList<TipTurnRatio> Loads, bool IsAbsolute);

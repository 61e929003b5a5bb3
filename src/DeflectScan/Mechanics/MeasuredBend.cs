using DeflectScan.Geometry;

namespace DeflectScan.Mechanics;

/// <summary>One photo's blank: its axis in the plane, the cord's pull, and how well both are known.</summary>
/// <param name="AxisMm">Points of the axis in mm, from the tip's end to where the blank goes into its clamp or handle; at least 20, 1 to 20 mm apart.</param>
public sealed record MeasuredBend(IReadOnlyList<Vec2> AxisMm)
{
    /// <summary>Standard uncertainty in mm of each point across the axis, independent from point to point. Default 0.3.</summary>
    public double NormalSdMm { get; init; } = 0.3;

    /// <summary>The same for each point on its own, where known; stands above <see cref="NormalSdMm"/>.</summary>
    public IReadOnlyList<double>? NormalSdsMm { get; init; }

    /// <summary>Standard uncertainty in mm across the axis of errors that neighbours share (lens, edge bias), added to the independent ones. Default 0.</summary>
    public double CorrelatedSdMm { get; init; }

    /// <summary>Distance in mm over which shared errors fall to 1/e. Default 50.</summary>
    public double CorrelationLengthMm { get; init; } = 50;

    /// <summary>Standard uncertainty in mm of the first point as the tip's place along the axis. Default 1.</summary>
    public double TipSdMm { get; init; } = 1;

    /// <summary>Where the cord pulls the tip, degrees counter-clockwise from +x in the same plane; null for a blank at rest.</summary>
    public double? CordDirectionDeg { get; init; }

    /// <summary>Standard uncertainty of the cord's direction in degrees. Default 0.2.</summary>
    public double CordDirectionSdDeg { get; init; } = 0.2;

    /// <summary>The cord's load in N, when a scale was read.</summary>
    public double? LoadN { get; init; }

    /// <summary>Standard uncertainty of the load as a share of it. Default 0.01.</summary>
    public double LoadSdShare { get; init; } = 0.01;

    /// <summary>Unit vector of gravity in this photo's plane. Default (0, -1).</summary>
    public Vec2 Down { get; init; } = new(0, -1);

    public bool IsAtRest => CordDirectionDeg is null;
}

/// <summary>What the blank carries of its own: the weight of blank, guides and wraps beyond the clamp.</summary>
/// <param name="BlankN">Weight of the free blank in N.</param>
/// <param name="SdShare">Standard uncertainty as a share of the whole weight.</param>
public sealed record OwnWeight(double BlankN, double SdShare = 0.03)
{
    /// <summary>
    /// Weight a length along the blank, in any unit, at a share 0 (tip) to 1 (clamp) of the free length. Default: thrice as much at the
    /// clamp as at the tip, even growth (common practice, no source).
    /// </summary>
    public Func<double, double> Spread { get; init; } = static share => 1 + (2 * share);

    /// <summary>Guides with their wraps, and the tip-top.</summary>
    public IReadOnlyList<PointWeight> Guides { get; init; } = [];

    public double TotalN => BlankN + Guides.Sum(g => g.WeightN);

    /// <summary>The default spread with no weight: what an estimate without a known weight leans on.</summary>
    internal static OwnWeight Unknown { get; } = new(0);
}

using DeflectScan.Findings;
using DeflectScan.Geometry;

namespace DeflectScan.Mechanics.Stiffness;

/// <summary>A bend at a load that was not photographed, with how far it may be off.</summary>
/// <param name="Bend">The likeliest bend, in the plane of the photo that it was predicted from.</param>
/// <param name="LoadFactor">Its pull over the reference photo's.</param>
/// <param name="LoadFactorSd">One standard uncertainty of the factor (0 when it was asked for by factor).</param>
/// <param name="LoadN">Its pull in N, when the reference load is known.</param>
/// <param name="NormalSdMm">One standard uncertainty in mm across the axis at every station of <paramref name="Bend"/>, the clamp held where it is.</param>
/// <param name="TipTurnSdDeg">One standard uncertainty of the tip's turn, degrees.</param>
/// <param name="Displacements">
/// Independent ways in which the whole bend may be off by one standard deviation, largest first: a displacement in mm for every station.
/// Any figure taken from the bend varies by the root sum of squares of its changes under them.
/// </param>
public sealed record PredictedBend(
    Bend Bend,
    double LoadFactor,
    double LoadFactorSd,
    double? LoadN,
    IReadOnlyList<double> NormalSdMm,
    double TipTurnSdDeg,
    IReadOnlyList<IReadOnlyList<Vec2>> Displacements)
{
    /// <summary>The axis by arc length from the tip.</summary>
    public ArcCurve Curve => Bend.Curve;

    public IReadOnlyList<Finding> Cautions { get; init; } = [];

    /// <summary>The bend displaced by one standard deviation in each independent way, as curves from the tip.</summary>
    public IEnumerable<ArcCurve> Variants() =>
        Displacements.Select(d => ArcCurve.Through([.. Bend.PointsMm.Select((p, i) => p + d[i])]));

    /// <summary>One standard uncertainty of any figure of the curve, to first order.</summary>
    public double SdOf(Func<ArcCurve, double> figure)
    {
        double nominal = figure(Curve);
        return Math.Sqrt(Variants().Sum(v => Math.Pow(figure(v) - nominal, 2)));
    }

    /// <summary>
    /// One standard uncertainty in mm of where the blank is at a station (by its number, 0 the tip), in any direction: larger than across the axis
    /// where the bend moves the blank along itself, as at a tip turned far round.
    /// </summary>
    public double PlaceSdMm(int node) =>
        Math.Max(NormalSdMm[node], Math.Sqrt(Displacements.Sum(d => d[node].LengthSquared)));

    /// <summary><see cref="NormalSdMm"/> between the stations.</summary>
    public double NormalSdAt(double stationMm)
    {
        IReadOnlyList<double> s = Bend.StationsMm;
        int i = 1;
        while (i < s.Count - 1 && s[i] < stationMm)
            i++;
        double t = Math.Clamp((stationMm - s[i - 1]) / (s[i] - s[i - 1]), 0, 1);
        return NormalSdMm[i - 1] + (t * (NormalSdMm[i] - NormalSdMm[i - 1]));
    }
}

using DeflectScan.Geometry;

namespace DeflectScan.Mechanics;

/// <summary>A blank in equilibrium. Index 0 is the tip, the last is the clamp.</summary>
/// <param name="StationsMm">Arc length from the tip, mm, ascending.</param>
/// <param name="PointsMm">The axis in the plane, mm.</param>
/// <param name="AnglesRad">Direction of the axis towards the tip, counter-clockwise from +x, unwrapped.</param>
/// <param name="MomentsNmm">Bending moment in N·mm, positive where it turns the tip counter-clockwise.</param>
/// <param name="CurvaturesPerMm">Signed curvature in 1/mm (see <see cref="BlankModel.NaturalCurvaturePerMm"/> for the sign).</param>
/// <param name="TipForceN">The pull at the tip in N.</param>
public sealed record Bend(
    IReadOnlyList<double> StationsMm,
    IReadOnlyList<Vec2> PointsMm,
    IReadOnlyList<double> AnglesRad,
    IReadOnlyList<double> MomentsNmm,
    IReadOnlyList<double> CurvaturesPerMm,
    Vec2 TipForceN)
{
    private readonly Lazy<ArcCurve> _curve = new(() => ArcCurve.Through(PointsMm));

    /// <summary>The axis as a curve by arc length from the tip.</summary>
    public ArcCurve Curve => _curve.Value;

    public Vec2 TipMm => PointsMm[0];

    /// <summary>How far the tip has turned against the clamp, degrees, not negative.</summary>
    public double TipTurnDeg => Math.Abs(AnglesRad[0] - AnglesRad[^1]) * 180 / Math.PI;

    /// <summary>The place at a station, by cubic Hermite between the steps; straight on beyond the ends.</summary>
    public Vec2 PointAt(double stationMm)
    {
        int i = Math.Clamp(Below(stationMm), 0, StationsMm.Count - 2);
        double h = StationsMm[i + 1] - StationsMm[i];
        double t = (stationMm - StationsMm[i]) / h;
        Vec2 d0 = -Direction(AnglesRad[i]);
        Vec2 d1 = -Direction(AnglesRad[i + 1]);
        if (t is < 0 or > 1)
            return t < 0 ? PointsMm[i] + (d0 * (t * h)) : PointsMm[i + 1] + (d1 * ((t - 1) * h));
        double t2 = t * t;
        double t3 = t2 * t;
        return (PointsMm[i] * ((2 * t3) - (3 * t2) + 1)) + (d0 * (h * (t3 - (2 * t2) + t)))
            + (PointsMm[i + 1] * ((3 * t2) - (2 * t3))) + (d1 * (h * (t3 - t2)));
    }

    /// <summary>Direction towards the tip at a station in radians, linear between the steps.</summary>
    public double AngleAt(double stationMm)
    {
        int i = Math.Clamp(Below(stationMm), 0, StationsMm.Count - 2);
        double t = Math.Clamp((stationMm - StationsMm[i]) / (StationsMm[i + 1] - StationsMm[i]), 0, 1);
        return AnglesRad[i] + (t * (AnglesRad[i + 1] - AnglesRad[i]));
    }

    private static Vec2 Direction(double angle) => new(Math.Cos(angle), Math.Sin(angle));

    private int Below(double station)
    {
        int low = 0;
        int high = StationsMm.Count - 1;
        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            (low, high) = StationsMm[middle] <= station ? (middle, high) : (low, middle);
        }

        return low;
    }
}

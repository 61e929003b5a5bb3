using DeflectScan.Geometry;
using DeflectScan.Numerics;

namespace DeflectScan.Mechanics.Estimation;

/// <summary>
/// A straight line for q = (EI/F)^(1/4) to start from: EI/F = lever arm / curvature of the rough curve, where both are large enough, by
/// weighted least squares after a pass that drops outliers.
/// </summary>
internal readonly record struct ProfileStart(double AtTip, double PerMm)
{
    public double At(double stationMm) => AtTip + (PerMm * stationMm);

    /// <returns>Null when the curve does not bend towards the pull.</returns>
    public static ProfileStart? Of(AxisStart start, double pullAngleRad)
    {
        Vec2 pull = new(Math.Cos(pullAngleRad), Math.Sin(pullAngleRad));
        List<(double S, double Q, double Weight)> values = [];
        for (int i = 0; i < start.Stations.Length; i++)
        {
            double share = start.Stations[i] / start.LengthMm;
            double arm = (start.Points[0] - start.Points[i]).Cross(pull);
            double ratio = arm / start.Curvatures[i];
            if (share is > 0.06 and < 0.9 && ratio > 0)
                values.Add((start.Stations[i], Math.Pow(ratio, 0.25), Math.Abs(arm)));
        }

        if (values.Count < 40)
            return null;
        double median = OrderStatistics.Middle(values.Select(v => v.Q));
        values.RemoveAll(v => v.Q > 3 * median || v.Q < median / 4);
        ProfileStart line = Line(values);
        values.RemoveAll(v => Math.Abs(v.Q - line.At(v.S)) > 0.25 * median);
        if (values.Count >= 20)
            line = Line(values);
        double atTip = Math.Max(line.AtTip, 0.1 * median);
        double atEnd = Math.Max(line.At(start.LengthMm), 0.3 * median);
        return new ProfileStart(atTip, (atEnd - atTip) / start.LengthMm);
    }

    private static ProfileStart Line(List<(double S, double Q, double Weight)> values)
    {
        double w = values.Sum(v => v.Weight);
        double s = values.Sum(v => v.Weight * v.S) / w;
        double q = values.Sum(v => v.Weight * v.Q) / w;
        double ss = values.Sum(v => v.Weight * (v.S - s) * (v.S - s));
        double sq = values.Sum(v => v.Weight * (v.S - s) * (v.Q - q));
        double slope = ss > 0 ? sq / ss : 0;
        return new ProfileStart(q - (slope * s), slope);
    }
}

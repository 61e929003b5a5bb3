using DeflectScan.Geometry;
using DeflectScan.Scenes;
using DeflectScan.Tracing;

namespace DeflectScan.Tests.Tracing.Line;

/// <summary>The blank's axis from a truth file, with the faults that a traced one has: smooth noise across, an end that is not quite the tip.</summary>
internal static class TruthAxis
{
    /// <param name="truth">The scene.</param>
    /// <param name="tipErrorMm">How much too short at the tip (negative: too long).</param>
    /// <param name="normalErrorPx">Amplitude of two waves across.</param>
    /// <param name="mirrored">x negated.</param>
    public static BlankAxis Of(Truth truth, double tipErrorMm = 0, double normalErrorPx = 0, bool mirrored = false)
    {
        TruthSample[] samples = [.. truth.Blank.Samples.Where(s => s.S >= truth.Blank.VisibleFromSMm).Reverse()];
        ArcCurve exact = ArcCurve.Through([.. samples.Select(s => new Vec2(mirrored ? -s.X : s.X, s.Y))]);
        double amplitude = normalErrorPx * truth.Camera.MmPerPxCentre;
        int n = (int)((exact.Length - tipErrorMm) / 5);
        List<Vec2> knots = [];
        for (int i = 0; i <= n; i++)
        {
            double s = tipErrorMm + ((exact.Length - tipErrorMm) * i / n);
            knots.Add(exact.Point(s) + (exact.Normal(s) * (amplitude * (Math.Sin(s / 47) + Math.Sin(1 + (s / 19))))));
        }

        ArcCurve curve = ArcCurve.Through(knots);
        double[] stations = [.. samples.Select((_, i) => (5.0 * i) - tipErrorMm)];
        double[] sd = [.. stations.Select(_ => 0.05)];
        return new BlankAxis(curve, stations, [.. samples.Select(s => s.DiameterMm)], sd, sd, curve.Length, 1);
    }
}

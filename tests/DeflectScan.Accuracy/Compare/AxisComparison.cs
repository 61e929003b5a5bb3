using DeflectScan.Geometry;
using DeflectScan.Scenes;

namespace DeflectScan.Accuracy.Compare;

/// <summary>The measured axis beside the true one over the bare blank, from where the handle ends to the tip.</summary>
/// <param name="OffsetPx">Perpendicular distance at each true sample (every 5 mm) that the measured axis spans.</param>
/// <param name="DiameterMm">Measured less true diameter there.</param>
/// <param name="Span">Share of the true samples that it spans.</param>
public sealed record AxisComparison(IReadOnlyList<double> OffsetPx, IReadOnlyList<double> DiameterMm, double Span)
{
    public static AxisComparison Of(BlankReport? blank, Truth truth)
    {
        if (blank is null || blank.Axis.Count < 3)
            return new AxisComparison([], [], 0);
        AxisSample[] samples = [.. blank.Axis.OrderBy(a => a.SMm)];
        ArcCurve curve = ArcCurve.Through([.. samples.Select(a => a.Px)]);
        List<double> offsets = [];
        List<double> diameters = [];
        int all = 0;
        foreach (TruthSample t in truth.Blank.Samples.Where(s => s.S >= truth.Blank.VisibleFromSMm))
        {
            all++;
            (double at, double offset) = curve.Nearest(new Vec2(t.U, t.V));
            double endPx = 3;
            if (at < -endPx || at > curve.Length + endPx)
                continue;
            offsets.Add(Math.Abs(offset));
            diameters.Add(Diameter(samples, curve, at) - t.DiameterMm);
        }

        return new AxisComparison(offsets, diameters, all == 0 ? 0 : offsets.Count / (double)all);
    }

    private static double Diameter(AxisSample[] samples, ArcCurve curve, double atPx)
    {
        IReadOnlyList<double> knots = curve.KnotStations;
        int i = 1;
        while (i < knots.Count - 1 && knots[i] < atPx)
            i++;
        double t = Math.Clamp((atPx - knots[i - 1]) / (knots[i] - knots[i - 1]), 0, 1);
        return samples[i - 1].DiameterMm + (t * (samples[i].DiameterMm - samples[i - 1].DiameterMm));
    }
}

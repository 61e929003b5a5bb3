using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Blank;

/// <summary>A bar being traced: its centreline from butt to tip and its half width at the curve's knots, rod-plane mm.</summary>
internal sealed class TracedBar(ArcCurve curve, double[] radiiMm)
{
    public ArcCurve Curve { get; } = curve;

    public double Length => Curve.Length;

    /// <summary>Half width in mm, linear between knots and straight on beyond the ends (never below 0.4 mm).</summary>
    public double Radius(double s)
    {
        IReadOnlyList<double> x = Curve.KnotStations;
        int i = 1;
        if (s > x[0])
        {
            int low = 0;
            int high = x.Count - 1;
            while (high - low > 1)
            {
                int middle = (low + high) / 2;
                if (x[middle] <= s)
                    low = middle;
                else
                    high = middle;
            }

            i = high;
        }

        double t = (s - x[i - 1]) / (x[i] - x[i - 1]);
        return Math.Max(0.4, radiiMm[i - 1] + (t * (radiiMm[i] - radiiMm[i - 1])));
    }

    /// <summary>The bar carried on beyond its last point, bending on as it did over the last <paramref name="memoryMm"/>.</summary>
    public TracedBar Extended(double afterMm, double memoryMm)
    {
        const double Step = 8;
        double memory = Math.Min(memoryMm, Length / 3);
        double bend = BarStroke.TurnBetween(Curve.Tangent(Length - memory), Curve.Tangent(Length)) / memory;
        List<Vec2> points = [.. Curve.Knots];
        List<double> radii = [.. radiiMm];
        int after = (int)Math.Ceiling(afterMm / Step);
        for (int k = 1; k <= after; k++)
        {
            double d = k * Step;
            points.Add(Curve.Point(Length) + (Curve.Tangent(Length) * d) + (Curve.Normal(Length) * (bend * d * d / 2)));
            radii.Add(Radius(Length + d));
        }

        return new TracedBar(ArcCurve.Through(points), [.. radii]);
    }

    /// <summary>The same bar run through the other way.</summary>
    public TracedBar Reversed() => new(ArcCurve.Through([.. Curve.Knots.Reverse()]), [.. radiiMm.Reverse()]);

    /// <summary>The part from s0 to s1.</summary>
    public TracedBar Part(double s0, double s1)
    {
        ArcCurve part = Curve.Part(s0, s1, knotSpacing: 8);
        return new TracedBar(part, [.. part.KnotStations.Select(s => Radius(s0 + s))]);
    }
}

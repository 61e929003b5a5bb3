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
        double bend = Curve.Tangent(Length - memory).TurnTo(Curve.Tangent(Length)) / memory;
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

    /// <summary>
    /// The same bar without bends shorter than <paramref name="knotMm"/>. A fit moves its base by a smooth shift, so short bends of the base, as
    /// following it piece by piece leaves, would stay for good.
    /// </summary>
    public TracedBar Smoothed(double knotMm)
    {
        const double Step = 4;
        int count = Math.Max(8, (int)(Length / Step));
        double[] s = [.. Enumerable.Range(0, count + 1).Select(i => Length * i / count)];
        Vec2[] points = [.. s.Select(Curve.Point)];
        double[] even = [.. s.Select(_ => 1.0)];
        PenalisedSpline x = PenalisedSpline.Fit(s, [.. points.Select(p => p.X)], even, 0, Length, knotMm, 3, 1e-4);
        PenalisedSpline y = PenalisedSpline.Fit(s, [.. points.Select(p => p.Y)], even, 0, Length, knotMm, 3, 1e-4);
        double[] at = [.. Enumerable.Range(0, (count / 2) + 1).Select(i => Length * i / (count / 2))];
        return new TracedBar(ArcCurve.Through([.. at.Select(v => new Vec2(x.At(v), y.At(v)))]), [.. at.Select(Radius)]);
    }
}

using MathNet.Numerics.Interpolation;

namespace DeflectScan.Geometry;

/// <summary>
/// A smooth plane curve by arc length: natural cubic splines x(s), y(s) over knots whose parameter is the curve's own arc
/// length (re-measured by Gauss-Legendre quadrature until it is). Immutable; safe to share between threads.
/// Beyond both ends the curve goes on along its end tangents.
/// </summary>
public sealed class ArcCurve
{
    private readonly double[] _s;
    private readonly CubicSpline _x;
    private readonly CubicSpline _y;

    private ArcCurve(double[] s, CubicSpline x, CubicSpline y, IReadOnlyList<Vec2> knots)
    {
        _s = s;
        _x = x;
        _y = y;
        Knots = knots;
    }

    /// <summary>Arc length from the first knot (s = 0) to the last, in the unit of the points.</summary>
    public double Length => _s[^1];

    public IReadOnlyList<Vec2> Knots { get; }

    public IReadOnlyList<double> KnotStations => _s;

    /// <summary>The curve through <paramref name="knots"/> in order.</summary>
    /// <param name="knots">At least three points, no two successive ones equal.</param>
    /// <exception cref="ArgumentException">Fewer than three points or a repeated point.</exception>
    public static ArcCurve Through(IReadOnlyList<Vec2> knots)
    {
        if (knots.Count < 3)
            throw new ArgumentException("A curve needs at least three points.", nameof(knots));
        double[] s = new double[knots.Count];
        for (int i = 1; i < s.Length; i++)
        {
            double step = knots[i].DistanceTo(knots[i - 1]);
            if (step <= 0)
                throw new ArgumentException("Two successive points of a curve are equal.", nameof(knots));
            s[i] = s[i - 1] + step;
        }

        double[] px = [.. knots.Select(p => p.X)];
        double[] py = [.. knots.Select(p => p.Y)];
        CubicSpline x = CubicSpline.InterpolateNaturalSorted(s, px);
        CubicSpline y = CubicSpline.InterpolateNaturalSorted(s, py);
        for (int pass = 0; pass < 4; pass++)
        {
            double[] longer = Remeasure(s, x, y);
            double change = 0;
            for (int i = 0; i < s.Length; i++)
                change = Math.Max(change, Math.Abs(longer[i] - s[i]));
            s = longer;
            x = CubicSpline.InterpolateNaturalSorted(s, px);
            y = CubicSpline.InterpolateNaturalSorted(s, py);
            if (change < 1e-12 * s[^1])
                break;
        }

        return new ArcCurve(s, x, y, [.. knots]);
    }

    public Vec2 Point(double s)
    {
        double at = Math.Clamp(s, 0, Length);
        Vec2 p = new(_x.Interpolate(at), _y.Interpolate(at));
        return at == s ? p : p + (Tangent(at) * (s - at));
    }

    /// <summary>Unit tangent towards growing s.</summary>
    public Vec2 Tangent(double s)
    {
        double at = Math.Clamp(s, 0, Length);
        return new Vec2(_x.Differentiate(at), _y.Differentiate(at)).Normalized();
    }

    /// <summary>Unit normal: the tangent turned by +90 degrees.</summary>
    public Vec2 Normal(double s) => Tangent(s).Perpendicular;

    /// <summary>Signed curvature in 1/unit, positive where the curve turns towards its normal; 0 beyond the ends.</summary>
    public double Curvature(double s)
    {
        if (s < 0 || s > Length)
            return 0;
        Vec2 d = new(_x.Differentiate(s), _y.Differentiate(s));
        Vec2 dd = new(_x.Differentiate2(s), _y.Differentiate2(s));
        return d.Cross(dd) / Math.Pow(d.LengthSquared, 1.5);
    }

    /// <summary>
    /// The curve's point nearest to <paramref name="p"/> (its end tangents included): arc length and signed offset along the normal.
    /// </summary>
    /// <param name="p">A point in the curve's plane.</param>
    /// <param name="nearS">Where to start, when known; without it the whole curve is searched.</param>
    public (double S, double Offset) Nearest(Vec2 p, double? nearS = null)
    {
        double s = nearS ?? CoarseNearest(p);
        for (int i = 0; i < 30; i++)
        {
            Vec2 t = Tangent(s);
            Vec2 away = p - Point(s);
            double slope = 1 - (Curvature(s) * t.Perpendicular.Dot(away));
            double step = away.Dot(t) / Math.Max(slope, 0.2);
            s += Math.Clamp(step, -Length / 8, Length / 8);
            if (Math.Abs(step) < 1e-11 * Length)
                break;
        }

        return (s, Normal(s).Dot(p - Point(s)));
    }

    /// <summary>The part from s0 to s1, re-measured from its own start; s may lie beyond the ends (straight there).</summary>
    /// <param name="s0">Start; when it is the larger one, the part runs backwards.</param>
    /// <param name="s1">End.</param>
    /// <param name="knotSpacing">Largest distance between the new knots, in the curve's unit.</param>
    public ArcCurve Part(double s0, double s1, double knotSpacing)
    {
        int n = Math.Max(3, (int)Math.Ceiling(Math.Abs(s1 - s0) / knotSpacing));
        return Through([.. Enumerable.Range(0, n + 1).Select(i => Point(s0 + ((s1 - s0) * i / n)))]);
    }

    private static double[] Remeasure(double[] s, CubicSpline x, CubicSpline y)
    {
        // Five-point Gauss-Legendre nodes and weights on [-1, 1]: Abramowitz and Stegun, table 25.4 (from memory).
        ReadOnlySpan<double> node = [0, 0.5384693101056831, -0.5384693101056831, 0.9061798459386640, -0.9061798459386640];
        ReadOnlySpan<double> weight = [0.5688888888888889, 0.4786286704993665, 0.4786286704993665, 0.2369268850561891, 0.2369268850561891];
        double[] longer = new double[s.Length];
        for (int i = 1; i < s.Length; i++)
        {
            double half = (s[i] - s[i - 1]) / 2;
            double middle = (s[i] + s[i - 1]) / 2;
            double sum = 0;
            for (int k = 0; k < node.Length; k++)
            {
                double at = middle + (half * node[k]);
                double dx = x.Differentiate(at);
                double dy = y.Differentiate(at);
                sum += weight[k] * Math.Sqrt((dx * dx) + (dy * dy));
            }

            longer[i] = longer[i - 1] + (half * sum);
        }

        return longer;
    }

    private double CoarseNearest(Vec2 p)
    {
        int best = 0;
        double bestSquared = double.MaxValue;
        for (int i = 0; i < Knots.Count; i++)
        {
            double d = (Knots[i] - p).LengthSquared;
            if (d < bestSquared)
                (best, bestSquared) = (i, d);
        }

        return _s[best];
    }
}

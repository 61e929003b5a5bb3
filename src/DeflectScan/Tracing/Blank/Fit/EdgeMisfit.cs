using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// Where the edges that were read do not lie on the fitted axis: in front of a busy picture another pair of edges may be as clear as the
/// blank's, and the fit cannot know which is right. What that, shade and gloss leave open is added to the uncertainty.
/// </summary>
internal sealed class EdgeMisfit
{
    private const double ReachMm = 50;
    // A rim in its own shade lies beyond what the step-and-ramp model finds, on rendered bars under hard light by half to the whole of what the
    // model moved the edge already. On one edge that is a standard uncertainty of half of it, one part in the axis and one in the half width.
    private const double ShadeShare = 0.7;
    private const double MostMiss = 3; // of the half width: farther off it is another thing

    private const double MedianVariance = Math.PI / 2; // of a normal sample's median over that of its mean

    private readonly double[] _s;
    private readonly double[] _off;
    private readonly double[] _miss;
    private readonly double[] _moved;
    private readonly double[] _widened;
    private readonly double _movedMostly;
    private readonly double _widenedMostly;

    private EdgeMisfit(double[] s, double[] off, double[] moved, double[] widened)
    {
        _s = s;
        _off = off;
        _miss = [.. off.Select(Math.Abs)];
        _moved = moved;
        _widened = widened;
        _movedMostly = Mostly(moved);
        _widenedMostly = Mostly(widened);
    }

    public static EdgeMisfit Of(IReadOnlyList<BarStation> readings, AxisFit fit)
    {
        List<double> s = [];
        List<double> offs = [];
        List<double> moved = [];
        List<double> widened = [];
        for (int i = 0; i < readings.Count; i++)
        {
            BarStation r = readings[i];
            double off = r.Centre - fit.Shift(r.S);
            if (!r.BothSeen || Math.Abs(off) > MostMiss * fit.Radius(r.S))
                continue;
            s.Add(r.S);
            offs.Add(off);
            moved.Add(Math.Abs(r.LeftMoved - r.RightMoved) / 2);
            widened.Add(Math.Abs(r.LeftMoved + r.RightMoved) / 2);
        }

        return new EdgeMisfit([.. s], [.. offs], [.. moved], [.. widened]);
    }

    /// <summary>
    /// The middle miss, mm, of the bar's middles read within 50 mm: next to nothing where most readings agree, whatever the others do.
    /// </summary>
    public double Miss(double s) => Middle(_miss, s);

    /// <summary>
    /// What the readings within 50 mm leave open of their middle, mm: how far it lies off the fit, and the standard uncertainty of a median.
    /// </summary>
    /// <param name="s">Station on the readings' base.</param>
    /// <param name="inflation">By how much neighbours' errors in common raise the variance of a mean.</param>
    public double MiddleSd(double s, double inflation)
    {
        List<double> near = Near(_off, s);
        if (near.Count == 0)
            return 0;
        double middle = OrderStatistics.Middle(near);
        double scatter = NormalLaw.SdPerMedianSize * Middle(_miss, s);
        return Math.Sqrt((middle * middle) + (MedianVariance * scatter * scatter * inflation / near.Count));
    }

    /// <summary>What shade and gloss leave open of the axis, mm: a share of how far they moved it from the half levels.</summary>
    public double Axis(double s) => ShadeShare * Math.Max(Middle(_moved, s), _movedMostly);

    /// <summary>The same of the half width, mm.</summary>
    public double Radius(double s) => ShadeShare * Math.Max(Middle(_widened, s), _widenedMostly);

    // Shade and gloss run along the whole bar; where it is thin they move the edges as far, but show less. The upper quartile of all readings.
    private static double Mostly(double[] values) => OrderStatistics.UpperQuartile(values.Where(double.IsFinite), none: 0);

    private double Middle(double[] values, double s) => OrderStatistics.Middle(Near(values, s), none: 0);

    private List<double> Near(double[] values, double s)
    {
        List<double> near = [];
        for (int i = 0; i < _s.Length; i++)
        {
            if (Math.Abs(_s[i] - s) < ReachMm)
                near.Add(values[i]);
        }

        return near;
    }
}

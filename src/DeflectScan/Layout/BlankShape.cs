using DeflectScan.Geometry;

namespace DeflectScan.Layout;

/// <summary>
/// The bent blank as every layout on it sees it: the axis by arc length and the radius along it. Moving guides never changes it.
/// Rod-plane mm; s = 0 at the tip, growing to the butt. Immutable; safe to share between threads.
/// </summary>
public sealed class BlankShape
{
    private readonly Func<double, double> _radiusMm;
    private readonly ShapeSample[] _samples;

    /// <summary>The shape from its axis and its radius.</summary>
    /// <param name="axis">Centreline in rod-plane mm, s = 0 at the tip.</param>
    /// <param name="radiusMm">The blank's outer radius in mm at s, also a little beyond both ends; must be pure.</param>
    public BlankShape(ArcCurve axis, Func<double, double> radiusMm)
    {
        Axis = axis;
        _radiusMm = radiusMm;
        int steps = Math.Max(2, (int)Math.Ceiling(axis.Length / LargestStepMm));
        StepMm = axis.Length / steps;
        _samples = [.. Enumerable.Range(0, steps + 1).Select(i => Exact(i * StepMm))];
        double turn = TurnRad();
        InsideSign = turn < 0 ? -1 : 1;
        TurnDeg = Math.Abs(turn) * 180 / Math.PI;
    }

    /// <summary>Grid of the cached samples in mm: fine enough that a parabola through three neighbours gives an extremum to well under 1e-4 mm.</summary>
    private const double LargestStepMm = 1.0;

    public ArcCurve Axis { get; }

    public double LengthMm => Axis.Length;

    /// <summary>The angle in degrees between the tangents at both ends, inflections deducted.</summary>
    public double TurnDeg { get; }

    /// <summary>+1 where the inside (concave side) of the whole bend lies along the axis's normal, -1 where it lies against it.</summary>
    public int InsideSign { get; }

    /// <summary>Spacing in mm of the cached samples.</summary>
    internal double StepMm { get; }

    /// <summary>The axis every <see cref="StepMm"/> from the tip to the butt.</summary>
    internal ReadOnlySpan<ShapeSample> Samples => _samples;

    /// <summary>The shape through measured samples: points from the tip to the butt and the outer diameter at each.</summary>
    /// <param name="pointsMm">At least three axis points in rod-plane mm, the tip first.</param>
    /// <param name="diametersMm">Outer diameter in mm at each point; linear between them, constant beyond the ends.</param>
    public static BlankShape Through(IReadOnlyList<Vec2> pointsMm, IReadOnlyList<double> diametersMm)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(diametersMm.Count, pointsMm.Count);
        ArcCurve axis = ArcCurve.Through(pointsMm);
        double[] stations = [.. axis.KnotStations];
        double[] radii = [.. diametersMm.Select(d => d / 2)];
        return new BlankShape(axis, s => PiecewiseLinear(stations, radii, s));
    }

    public double RadiusMm(double s) => _radiusMm(s);

    /// <summary>+1 or -1: the sign of an offset along the axis's normal that lies on <paramref name="side"/>.</summary>
    public int SignOf(GuideSide side) => side == GuideSide.Inside ? InsideSign : -InsideSign;

    /// <summary>First and last index of the cached samples strictly between two stations; first &gt; last when there is none.</summary>
    internal (int First, int Last) Between(double from, double to)
    {
        int first = Math.Clamp((int)Math.Floor(from / StepMm) + 1, 0, _samples.Length);
        int last = Math.Clamp((int)Math.Ceiling(to / StepMm) - 1, -1, _samples.Length - 1);
        return (first, last);
    }

    /// <summary>The axis at s from the cached samples: a cubic between neighbours, so within 1e-9 mm of <see cref="Exact"/> and many times faster.</summary>
    internal ShapeSample At(double s)
    {
        double at = s / StepMm;
        if (!(at >= 0) || at > _samples.Length - 1)
            return Exact(s);
        int i = Math.Min((int)at, _samples.Length - 2);
        double t = at - i;
        (ShapeSample a, ShapeSample b) = (_samples[i], _samples[i + 1]);
        Vec2 rise = b.Point - a.Point;
        Vec2 bendA = (a.Tangent * StepMm) - rise;
        Vec2 bendB = rise - (b.Tangent * StepMm);
        Vec2 point = a.Point + (rise * t) + (((bendA * (1 - t)) + (bendB * t)) * (t * (1 - t)));
        Vec2 slope = rise + (((bendA * (1 - t)) + (bendB * t)) * (1 - (2 * t))) + ((bendB - bendA) * (t * (1 - t)));
        return new ShapeSample(s, point, slope.Normalized(), _radiusMm(s));
    }

    /// <summary>The same blank with every curvature multiplied by one factor, the tip kept in place: bent more or less in the same form.</summary>
    internal BlankShape Bent(double factor)
    {
        List<Vec2> points = [_samples[0].Point];
        Vec2 start = _samples[0].Tangent;
        double angle = 0;
        for (int i = 1; i < _samples.Length; i++)
        {
            Vec2 before = _samples[i - 1].Tangent;
            double turn = before.TurnTo(_samples[i].Tangent) * factor;
            double middle = angle + (turn / 2);
            angle += turn;

            // The chord of an arc of that turning: a hair shorter than the step along it.
            double chord = StepMm * (1 - (turn * turn / 24));
            points.Add(points[^1] + (((start * Math.Cos(middle)) + (start.Perpendicular * Math.Sin(middle))) * chord));
        }

        int stride = Math.Max(1, points.Count / 600);
        return new BlankShape(ArcCurve.Through([.. points.Where((_, i) => i % stride == 0 || i == points.Count - 1)]), _radiusMm);
    }

    internal ShapeSample Exact(double s) => new(s, Axis.Point(s), Axis.Tangent(s), _radiusMm(s));

    private double TurnRad()
    {
        double turn = 0;
        for (int i = 1; i < _samples.Length; i++)
            turn += _samples[i - 1].Tangent.TurnTo(_samples[i].Tangent);
        return turn;
    }

    private static double PiecewiseLinear(double[] x, double[] y, double at)
    {
        int i = Array.BinarySearch(x, at);
        if (i >= 0)
            return y[i];
        i = ~i;
        if (i == 0)
            return y[0];
        if (i == x.Length)
            return y[^1];
        double t = (at - x[i - 1]) / (x[i] - x[i - 1]);
        return y[i - 1] + (t * (y[i] - y[i - 1]));
    }
}

/// <summary>The axis at one station: place, unit tangent towards the butt, the blank's radius.</summary>
internal readonly record struct ShapeSample(double S, Vec2 Point, Vec2 Tangent, double RadiusMm);

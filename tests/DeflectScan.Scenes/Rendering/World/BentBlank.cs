using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>The bent blank's exact centreline in the rod plane, mm, s from the butt (which is the origin).</summary>
public sealed class BentBlank
{
    private readonly double _clamp;
    private readonly double _step;
    private readonly Vec2[] _p;
    private readonly double[] _angle;

    /// <param name="taper">Diameter and stiffness.</param>
    /// <param name="clampFrontMm">Straight from the butt to this station.</param>
    /// <param name="nodes">Equally spaced solution from the clamp to the tip; its places are shifted so that the butt is the origin.</param>
    /// <param name="forceRelative">Pull / EI(butt), 1/mm^2.</param>
    /// <param name="forceRadians">Direction of the pull.</param>
    /// <param name="mirrored">The blank points left.</param>
    public BentBlank(Taper taper, double clampFrontMm, IReadOnlyList<(double S, Vec2 P, double Angle)> nodes, double forceRelative, double forceRadians, bool mirrored)
    {
        Taper = taper;
        Mirrored = mirrored;
        ForceRelative = forceRelative;
        ForceRadians = forceRadians;
        Nodes = nodes;
        _clamp = clampFrontMm;
        _step = nodes[1].S - nodes[0].S;
        Vec2 origin = nodes[0].P - (Direction(nodes[0].Angle) * clampFrontMm);
        _p = [.. nodes.Select(n => n.P - origin)];
        _angle = [.. nodes.Select(n => n.Angle)];
    }

    public Taper Taper { get; }

    public bool Mirrored { get; }

    public double ForceRelative { get; }

    public double ForceRadians { get; }

    public double LengthMm => Taper.LengthMm;

    public double ClampFrontMm => _clamp;

    public double ButtAngle => _angle[0];

    public double TipTurnDeg => Math.Abs(_angle[^1] - _angle[0]) * 180 / Math.PI;

    private IReadOnlyList<(double S, Vec2 P, double Angle)> Nodes { get; }

    /// <summary>The same blank pointing left: x turned about.</summary>
    public BentBlank Mirror() => new(
        Taper, _clamp, [.. Nodes.Select(n => (n.S, new Vec2(-n.P.X, n.P.Y), Math.PI - n.Angle))], ForceRelative, Math.PI - ForceRadians, !Mirrored);

    /// <summary>Tangent angle towards the tip, radians from +x.</summary>
    public double Angle(double s)
    {
        (int i, double t) = Locate(s);
        return i < 0 ? _angle[0] : _angle[i] + (t * (_angle[i + 1] - _angle[i]));
    }

    public Vec2 Tangent(double s) => Direction(Angle(s));

    /// <summary>Unit normal towards the outside (convex side) of the bend.</summary>
    public Vec2 Outward(double s) => Tangent(s).Perpendicular * (Mirrored ? -1 : 1);

    /// <summary>Cubic Hermite between the solution's nodes, straight behind the clamp.</summary>
    public Vec2 Point(double s)
    {
        (int i, double t) = Locate(s);
        if (i < 0)
            return Direction(_angle[0]) * s;
        Vec2 m0 = Direction(_angle[i]) * _step;
        Vec2 m1 = Direction(_angle[i + 1]) * _step;
        double t2 = t * t;
        double t3 = t2 * t;
        return (_p[i] * ((2 * t3) - (3 * t2) + 1)) + (m0 * (t3 - (2 * t2) + t)) + (_p[i + 1] * ((3 * t2) - (2 * t3))) + (m1 * (t3 - t2));
    }

    /// <summary>Station of the axis point nearest to <paramref name="p"/> between two stations.</summary>
    public double NearestStation(Vec2 p, double from, double to)
    {
        double best = from;
        double bestSquared = double.MaxValue;
        for (double s = from; s <= to + 2; s += 4)
        {
            double d = (Point(Math.Min(s, to)) - p).LengthSquared;
            if (d < bestSquared)
                (best, bestSquared) = (Math.Min(s, to), d);
        }

        for (int i = 0; i < 20; i++)
        {
            double step = Tangent(best).Dot(p - Point(best));
            best = Math.Clamp(best + step, from, to);
            if (Math.Abs(step) < 1e-9)
                break;
        }

        return best;
    }

    private static Vec2 Direction(double angle) => new(Math.Cos(angle), Math.Sin(angle));

    private (int I, double T) Locate(double s)
    {
        if (s < _clamp)
            return (-1, 0);
        double at = (s - _clamp) / _step;
        int i = Math.Clamp((int)at, 0, _p.Length - 2);
        return (i, at - i);
    }
}

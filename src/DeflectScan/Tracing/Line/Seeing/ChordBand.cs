using System.Collections.Concurrent;
using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tracing.Line;

/// <summary>A band's geometry and evidence for straight pieces.</summary>
internal sealed class ChordBand
{
    /// <summary>What lies beside a ring is left out, mm.</summary>
    private const double SkipMm = 4;

    /// <summary>Half a line of 0.3 mm: as its middle lies on the blank.</summary>
    public const double HalfLineMm = 0.15;

    private readonly ConcurrentDictionary<(RingPlace, bool), RingNode> _nodes = new();
    private readonly ChordMap _map;
    private readonly Vec2[] _foot;
    private readonly Vec2[] _up;
    private readonly double[] _footX;
    private readonly double[] _footY;
    private readonly double[] _upX;
    private readonly double[] _upY;

    public ChordBand(ChordMap map)
    {
        _map = map;
        Strip = map.Strip;
        int n = Strip.Columns;
        _foot = [.. Enumerable.Range(0, n).Select(c => Strip.PlanePoint(c, 0))];
        _up = [.. Enumerable.Range(0, n).Select(c => Strip.PlanePoint(c, 1) - _foot[c])];
        (_footX, _footY) = ([.. _foot.Select(p => p.X)], [.. _foot.Select(p => p.Y)]);
        (_upX, _upY) = ([.. _up.Select(p => p.X)], [.. _up.Select(p => p.Y)]);
        Surface = [.. Enumerable.Range(0, n).Select(c => _foot[c] + (_up[c] * (Strip.Axis.RadiusMm(Strip.Station(c)) + HalfLineMm)))];
    }

    public BandStrip Strip { get; }

    /// <summary>A ring with what is seen from it, made once: the ways through other rings are tried again and again.</summary>
    /// <param name="ring">The ring.</param>
    /// <param name="insideSign">+1 where the axis' normal points to the inside of the bend.</param>
    /// <param name="isTip">Whether it is the tip-top.</param>
    public RingNode Node(RingPlace ring, double insideSign, bool isTip) => _nodes.GetOrAdd((ring, isTip), _ => new RingNode(this, ring, insideSign, isTip));

    public double StepMm => Strip.StepMm;

    /// <summary>By column: where a line that lies on the blank has its middle.</summary>
    public Vec2[] Surface { get; }

    public double RadiusMm(double column) => Strip.Axis.RadiusMm(Strip.Station(column));

    /// <summary>Evidence of the straight line between two points, over the columns between.</summary>
    public double Along(Vec2 a, Vec2 b, double fromColumn, double toColumn)
    {
        Span<double> sums = stackalloc double[BandStrip.Channels];
        sums.Clear();
        Vec2 d = b - a;
        double skip = SkipMm / StepMm;
        int n = 0;
        int last = Math.Min(Strip.Columns - 1, (int)Math.Floor(toColumn - skip));
        int c = Math.Max(0, (int)Math.Ceiling(fromColumn + skip));
        int width = Vector<double>.Count;
        Span<double> levels = stackalloc double[width];
        for (; c + width - 1 <= last; c += width)
        {
            Vector<double> height = (((new Vector<double>(a.X) - At(_footX, c)) * d.Y) - ((new Vector<double>(a.Y) - At(_footY, c)) * d.X))
                / ((At(_upX, c) * d.Y) - (At(_upY, c) * d.X));
            ((height - new Vector<double>(Strip.FirstHeight)) / new Vector<double>(Strip.LevelMm)).StoreUnsafe(ref levels[0]);
            for (int k = 0; k < width; k++)
                n += _map.Add(c + k, levels[k], sums) ? 1 : 0;
        }

        for (; c <= last; c++)
            n += _map.Add(c, Strip.LevelOf((a - _foot[c]).Cross(d) / _up[c].Cross(d)), sums) ? 1 : 0;
        return _map.Score(sums[.._map.Maps], n);
    }

    private static Vector<double> At(double[] values, int column) => Vector.LoadUnsafe(ref values[column]);

    /// <summary>Evidence of a line at a level a column, from one on.</summary>
    public double Along(int fromColumn, ReadOnlySpan<double> levels) => _map.Score(fromColumn, levels);

    /// <summary>The column at which the tangent from a point to the blank meets it, and the evidence along it.</summary>
    /// <param name="p">The point.</param>
    /// <param name="column">Its column.</param>
    /// <param name="direction">1: towards the reel, -1: towards the tip.</param>
    /// <param name="reachMm">How far.</param>
    public (int Column, double Score) Tangent(Vec2 p, double column, int direction, double reachMm)
    {
        int first = (int)Math.Round(column + (direction * 2 * SkipMm / StepMm));
        int last = Math.Clamp((int)(column + (direction * reachMm / StepMm)), 1, Strip.Columns - 2);
        int best = -1;
        Vec2 highest = default;
        for (int c = first; direction > 0 ? c <= last : c >= last; c += direction)
        {
            if (c < 0 || c >= Strip.Columns)
                break;
            Vec2 d = Surface[c] - p;
            if (best < 0 || highest.Cross(d) * direction * Strip.Side > 0)
                (best, highest) = (c, d);
        }

        if (best < 0)
            return (direction > 0 ? int.MaxValue : int.MinValue, 0);
        return (best, direction > 0 ? Along(p, Surface[best], column, best) : Along(Surface[best], p, best, column));
    }
}

using DeflectScan.Geometry;
using DeflectScan.Mechanics.Stiffness;

namespace DeflectScan.Layout.Spacing;

/// <summary>
/// What one interval that is too long says of all longer ones from the same tipward node, without looking at them. Their lines start from the same
/// ring; a line that turns farther away from a place of the axis leaves it farther off, and which way the lines can turn is bounded by the
/// directions of the ring points' own path beyond. Nothing is assumed of the curve or of the heights: where the bound is not enough, the answer is
/// "not known". The last node is left out: a held ring may stand far higher or lower than its neighbours.
/// </summary>
internal sealed class LongerIntervals
{
    // With tangents within this of each other and rings no higher than this share of the chord, lines and tangents stay within 70 degrees
    // of each other: the range in which distances along normals are what counts.
    private const double MostSpreadRad = Math.PI / 4;
    private const double MostHeightShare = 0.4;
    private const double LeastCosine = 0.35;
    private const int LongestStretch = 256;
    private readonly SpacingNodes _nodes;
    private readonly Vec2[] _rings;
    private readonly double[] _heights;
    private readonly double _highest;
    private readonly double _thickest;
    private readonly Stretch[] _stretches;
    private readonly double[] _pathMm;
    private readonly int[] _spreadEnd;
    private readonly int _last;

    public LongerIntervals(SpacingNodes nodes, Vec2[] rings, double[] heights, double thickest)
    {
        _nodes = nodes;
        _rings = rings;
        _heights = heights;
        _highest = heights.Max();
        _thickest = thickest;
        _last = rings.Length - 2;
        _spreadEnd = new int[rings.Length];
        _pathMm = new double[rings.Length];
        for (int i = 1; i < rings.Length; i++)
            _pathMm[i] = _pathMm[i - 1] + rings[i].DistanceTo(rings[i - 1]);
        _stretches = Stretches();
        Spreads();
    }

    /// <summary>A node up to which no longer interval from <paramref name="tipward"/> leaves the axis at a sample less far than this one does.</summary>
    /// <param name="tipward">Node.</param>
    /// <param name="buttward">Node of the interval that is too long.</param>
    /// <param name="at">Sample where it leaves the axis so far, between both.</param>
    /// <param name="alongNormals">Distances are along the axis's normals (gap), else across the line (bow).</param>
    /// <param name="reachMm">The distance from the axis there.</param>
    /// <param name="costMm">The cost that this is: what the farthest intervals are held against.</param>
    /// <returns>The first node beyond of which that is not sure; the last node at most, or beyond the last when it was asked for.</returns>
    public int Next(int tipward, int buttward, int at, bool alongNormals, double reachMm, double costMm)
    {
        if (buttward >= _last)
            return buttward + 1;
        int end = _spreadEnd[tipward];
        bool far = end >= _last || FarFloor(tipward, end) >= costMm;
        if (buttward > end)
            return far ? _last + 1 : buttward + 1;
        Vec2 ring = _rings[tipward];
        ShapeSample q = _nodes.Samples[at];
        Vec2 chord = _nodes.Samples[_nodes.SampleOf[buttward]].Point - _nodes.Samples[_nodes.SampleOf[tipward]].Point;
        double rings = _heights[tipward] + _highest;
        if (chord.LengthSquared * MostHeightShare * MostHeightShare < rings * rings || (q.Point - ring).Dot(q.Tangent) <= 0)
            return buttward + 1;
        Vec2 line = _rings[buttward] - ring;
        Vec2 away = ring - q.Point;
        int side = Math.Sign(line.Cross(away));
        foreach (Stretch stretch in _stretches)
        {
            int sure = Math.Min(end, Math.Min(_last, buttward + stretch.Nodes));
            Vec2 bound = side > 0 ? stretch.Clockwise[buttward] : stretch.Anticlockwise[buttward];
            if (bound == default)
                continue;

            // The farthest that the line can turn back: its end gone all the way in the direction farthest to that side.
            Vec2 turned = bound.Cross(line) * side < 0 ? line : line + (bound * (_pathMm[sure] - _pathMm[buttward]));
            double along = turned.Dot(q.Tangent);
            double length = turned.Length;
            if (along > LeastCosine * length && turned.Cross(away) * side >= reachMm * (alongNormals ? along : length))
                return sure == end && far ? _last + 1 : sure + 1;
        }

        return buttward + 1;
    }

    /// <summary>
    /// A floor under the cost of every interval that goes beyond a node. Moved by its ring's height the line starts on the axis; a line from there
    /// leaves either a middle place or that node at least half their triangle's height away.
    /// </summary>
    private double FarFloor(int tipward, int beyond)
    {
        int a = _nodes.SampleOf[tipward];
        int b = _nodes.SampleOf[beyond];
        Vec2 start = _nodes.Samples[a].Point;
        Vec2 chord = _nodes.Samples[b].Point - start;
        Vec2 middle = _nodes.Samples[(a + b) / 2].Point - start;
        double longer = Math.Max(chord.Length, middle.Length);
        return longer <= 0 ? 0 : (Math.Abs(chord.Cross(middle)) / (2 * longer)) - _heights[tipward] - _thickest;
    }

    // Directions of the steps of the ring points' path, farthest to either side over all from a node on, and over shorter and shorter stretches.
    private Stretch[] Stretches()
    {
        double[] angles = new double[Math.Max(0, _last)];
        for (int i = 0; i < angles.Length; i++)
        {
            ShapeSample q = _nodes.Samples[_nodes.SampleOf[i]];
            Vec2 step = _rings[i + 1] - _rings[i];
            angles[i] = _nodes.AnglesRad[_nodes.SampleOf[i]] + q.Tangent.TurnTo(step);
        }

        double[] least = [.. angles];
        double[] most = [.. angles];
        for (int i = angles.Length - 2; i >= 0; i--)
            (least[i], most[i]) = (Math.Min(least[i], least[i + 1]), Math.Max(most[i], most[i + 1]));
        List<Stretch> stretches = [Directions(angles.Length, least, most)];
        (least, most) = (angles, angles);
        for (int nodes = 1; nodes < LongestStretch; nodes *= 4)
        {
            (least, most) = Over(4, nodes, least, most);
            stretches.Insert(1, Directions(4 * nodes, least, most));
        }

        return [.. stretches];
    }

    // Least and most of so many values, so far apart, from each one on.
    private static (double[] Least, double[] Most) Over(int count, int apart, double[] least, double[] most)
    {
        double[] low = [.. least];
        double[] high = [.. most];
        for (int i = 0; i < low.Length; i++)
        {
            for (int k = 1; k < count && i + (k * apart) < low.Length; k++)
            {
                low[i] = Math.Min(low[i], least[i + (k * apart)]);
                high[i] = Math.Max(high[i], most[i + (k * apart)]);
            }
        }

        return (low, high);
    }

    private Stretch Directions(int nodes, double[] least, double[] most)
    {
        Vec2 t = _nodes.Samples[0].Tangent;
        Vec2[] clockwise = new Vec2[least.Length];
        Vec2[] anticlockwise = new Vec2[least.Length];
        for (int i = 0; i < least.Length; i++)
        {
            // No bound where the directions spread over half a turn.
            if (most[i] - least[i] < Math.PI * 0.98)
                (clockwise[i], anticlockwise[i]) = (Direction(least[i]), Direction(most[i]));
        }

        return new Stretch(nodes, clockwise, anticlockwise);
        Vec2 Direction(double angle) => (t * Math.Cos(angle)) + (t.Perpendicular * Math.Sin(angle));
    }

    // For each node the last one up to which the tangents stay within the spread: a window whose ends only move on.
    private void Spreads()
    {
        double[] angles = _nodes.AnglesRad;
        int[] least = new int[angles.Length];
        int[] most = new int[angles.Length];
        (int l0, int l1, int m0, int m1) = (0, 0, 0, 0);
        int taken = 0;
        int end = 0;
        for (int i = 0; i <= _last; i++)
        {
            int a = _nodes.SampleOf[i];
            while (l0 < l1 && least[l0] < a)
                l0++;
            while (m0 < m1 && most[m0] < a)
                m0++;
            for (; end <= _last; end++)
            {
                for (; taken <= _nodes.SampleOf[end]; taken++)
                {
                    while (l1 > l0 && angles[least[l1 - 1]] >= angles[taken])
                        l1--;
                    least[l1++] = taken;
                    while (m1 > m0 && angles[most[m1 - 1]] <= angles[taken])
                        m1--;
                    most[m1++] = taken;
                }

                if (angles[most[m0]] - angles[least[l0]] > MostSpreadRad)
                    break;
            }

            _spreadEnd[i] = Math.Max(i, end - 1);
        }
    }

    /// <summary>Bounds over so many steps from each node.</summary>
    private sealed record Stretch(int Nodes, Vec2[] Clockwise, Vec2[] Anticlockwise);
}

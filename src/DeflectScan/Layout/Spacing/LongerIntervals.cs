using DeflectScan.Geometry;

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
    private readonly SpacingNodes _nodes;
    private readonly Vec2[] _rings;
    private readonly double[] _heights;
    private readonly double _highest;
    private readonly double _thickest;
    private readonly Vec2[] _clockwise;
    private readonly Vec2[] _anticlockwise;
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
        _clockwise = new Vec2[rings.Length];
        _anticlockwise = new Vec2[rings.Length];
        _spreadEnd = new int[rings.Length];
        Directions();
        Spreads();
    }

    /// <summary>True when every interval from <paramref name="tipward"/> beyond <paramref name="buttward"/> surely leaves the axis at a sample at least so far.</summary>
    /// <param name="tipward">Node.</param>
    /// <param name="buttward">Node of the interval that does.</param>
    /// <param name="at">Sample where it does, between both.</param>
    /// <param name="alongNormals">Distances are along the axis's normals (gap), else across the line (bow).</param>
    /// <param name="reachMm">The distance from the axis there.</param>
    /// <param name="costMm">The cost that this is: what the farthest intervals are held against.</param>
    public bool AllReach(int tipward, int buttward, int at, bool alongNormals, double reachMm, double costMm)
    {
        if (buttward >= _last)
            return true;
        int end = _spreadEnd[tipward];
        if (end < _last && FarFloor(tipward, end) < costMm)
            return false;
        return buttward > end || NearReach(tipward, buttward, at, alongNormals, reachMm);
    }

    private bool NearReach(int tipward, int buttward, int at, bool alongNormals, double reachMm)
    {
        Vec2 ring = _rings[tipward];
        ShapeSample q = _nodes.Samples[at];
        Vec2 chord = _nodes.Samples[_nodes.SampleOf[buttward]].Point - _nodes.Samples[_nodes.SampleOf[tipward]].Point;
        double rings = _heights[tipward] + _highest;
        if (chord.LengthSquared * MostHeightShare * MostHeightShare < rings * rings || (q.Point - ring).Dot(q.Tangent) <= 0)
            return false;
        Vec2 along = (_rings[buttward] - ring).Normalized();
        int side = Math.Sign(along.Cross(ring - q.Point));
        Vec2 bound = side > 0 ? _clockwise[buttward] : _anticlockwise[buttward];
        if (bound == default)
            return false;
        if (bound.Cross(along) * side < 0)
            bound = along;
        double cosine = bound.Dot(q.Tangent);
        double across = bound.Cross(ring - q.Point) * side;
        return cosine > LeastCosine && (alongNormals ? across / cosine : across) >= reachMm;
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

    // The directions farthest to either side among the steps of the ring points' path from each node to the last but one.
    private void Directions()
    {
        double least = double.PositiveInfinity;
        double most = double.NegativeInfinity;
        for (int i = _last - 1; i >= 0; i--)
        {
            ShapeSample q = _nodes.Samples[_nodes.SampleOf[i]];
            Vec2 step = _rings[i + 1] - _rings[i];
            double angle = _nodes.AnglesRad[_nodes.SampleOf[i]] + Math.Atan2(q.Tangent.Cross(step), q.Tangent.Dot(step));
            least = Math.Min(least, angle);
            most = Math.Max(most, angle);
            if (most - least > Math.PI * 0.98)
                return;
            (_clockwise[i], _anticlockwise[i]) = (Direction(least), Direction(most));
        }

        Vec2 Direction(double angle)
        {
            Vec2 t = _nodes.Samples[0].Tangent;
            return (t * Math.Cos(angle)) + (t.Perpendicular * Math.Sin(angle));
        }
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
}

using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// Joins the line's corners and the things that stand on the blank into one count of guides: a corner where nothing stands and a guide
/// where the line shows no corner both make the count doubtful, unless the rod's other guides settle it.
/// </summary>
/// <param name="Line">Vertices, guides without a corner put in.</param>
/// <param name="Supports">What stands at each vertex; null for the ends and the tip-top.</param>
/// <param name="Doubts">Stations where a person should look.</param>
internal sealed record GuideCensus(List<Vec2> Line, List<CornerSupport?> Supports, List<double> Doubts, BlankAxis Axis)
{
    /// <summary>A guide without a corner must look this much like the others do among themselves.</summary>
    private const double SureLikeness = 0.75;

    private const double OwnReachMm = 30;

    private const double DoubtfulLikeness = 0.56;

    /// <summary>How well the look of a guide tells its ring's place along the blank, mm; found on guides whose line turns well.</summary>
    private const double LookSdMm = 0.4;

    public static GuideCensus Take(BlankAxis axis, RingSupport support, IReadOnlyList<Vec2> vertices, int tip, double stepMm)
    {
        List<Vec2> line = [.. vertices];
        List<double> doubts = [];
        if (line.Count - tip > 3 && support.UsualLikeness > 0)
        {
            double tipStation = axis.Curve.Nearest(line[tip]).S;
            double[] stations = [.. line.Select(v => axis.Curve.Nearest(v).S)];
            List<Vec2> added = [];
            // Only among guides of the usual kind: the wraps of a two-footed guide look a little like a guide.
            double last = stations.Where((s, i) => i > tip && i < line.Count - 1 && support.At(line[i]).OffsetMm is not null).DefaultIfEmpty(0).Max();
            foreach ((double s, double share) in support.Others(tipStation + 22, last))
            {
                if (stations.Skip(tip).SkipLast(1).Any(c => Math.Abs(c - s) < OwnReachMm))
                    continue;
                Vec2 point = OnLine(axis, line, s, tip);
                if (share > SureLikeness && RunsThrough(axis, line, point, tip))
                    added.Add(point);
                else if (share > DoubtfulLikeness)
                    doubts.Add(s);
            }

            foreach (Vec2 point in added)
                line.Insert(InsertAt(axis, line, point, tip), point);
        }

        List<CornerSupport?> supports = [.. line.Select((v, i) => i > tip && i < line.Count - 1 ? support.At(v) : null)];
        return new GuideCensus(line, supports, doubts, axis);
    }

    /// <summary>Pulls of the corners along the blank to where the guides' look says the rings are.</summary>
    public IReadOnlyList<VertexPull> Pulls(IReadOnlyList<Vec2> now)
    {
        List<VertexPull> pulls = [];
        for (int i = 0; i < now.Count; i++)
        {
            if (Supports[i]?.OffsetMm is not { } offset)
                continue;
            Vec2 along = Axis.Curve.Tangent(Axis.Curve.Nearest(Line[i]).S);
            double moved = along.Dot(now[i] - Line[i]);
            pulls.Add(new VertexPull(i, along, offset - moved, LookSdMm));
        }

        return pulls;
    }

    /// <summary>Whether the line there is at a height at which it can run through a ring like those of the neighbours.</summary>
    private static bool RunsThrough(BlankAxis axis, List<Vec2> line, Vec2 point, int tip)
    {
        double[] heights = [.. line.Skip(tip + 1).SkipLast(1).Select(v => Math.Abs(axis.Curve.Nearest(v).Offset)).Order()];
        double usual = heights[heights.Length / 2];
        double height = Math.Abs(axis.Curve.Nearest(point).Offset);
        return height > 0.5 * usual && height < 1.25 * usual;
    }

    private static int InsertAt(BlankAxis axis, List<Vec2> line, Vec2 point, int tip)
    {
        double s = axis.Curve.Nearest(point).S;
        int i = tip + 1;
        while (i < line.Count - 1 && axis.Curve.Nearest(line[i]).S < s)
            i++;
        return i;
    }

    private static Vec2 OnLine(BlankAxis axis, List<Vec2> line, double station, int tip)
    {
        Vec2 foot = axis.Curve.Point(station);
        Vec2 along = axis.Curve.Tangent(station);
        for (int i = tip; i + 1 < line.Count; i++)
        {
            double a = along.Dot(line[i] - foot);
            double b = along.Dot(line[i + 1] - foot);
            if (a <= 0 && b > 0)
                return Vec2.Lerp(line[i], line[i + 1], a / (a - b));
        }

        return foot;
    }
}

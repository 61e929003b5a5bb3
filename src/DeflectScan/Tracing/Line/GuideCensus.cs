using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// Joins the line's corners and the things that stand on the blank into one count of guides: a corner where nothing stands and a guide
/// where the line shows no corner both make the count doubtful, unless the rod's other guides settle it.
/// </summary>
/// <param name="Line">Vertices, guides without a corner put in.</param>
/// <param name="Supports">What stands at each vertex; null for the ends and the tip-top.</param>
/// <param name="Doubts">Stations where a person should look.</param>
/// <param name="Axis">The blank.</param>
/// <param name="KnowsItsGuides">Whether some of the guides look alike, so that the count could be held against their look, or something stands at every corner.</param>
internal sealed record GuideCensus(List<Vec2> Line, List<CornerSupport?> Supports, List<double> Doubts, BlankAxis Axis, bool KnowsItsGuides)
{
    /// <summary>A guide without a corner must look this much like the others do among themselves.</summary>
    private const double SureLikeness = 0.75;

    private const double OwnReachMm = 30;
    private const double OnBlankMm = 1.2;

    /// <summary>How far from its ring a guide's wrap may lie.</summary>
    private const double WrapReachMm = 42;

    /// <summary>Nothing within this of the tip-top's ring is a guide, mm.</summary>
    private const double TipTopMm = 22;

    /// <summary>By this factor, and some mm besides, a ring's height may break the order of heights: the guides' own scatter.</summary>
    private const double OrderSlack = 1.1;
    private const double OrderSlackMm = 2;

    /// <summary>No farther from each other are the middles of a guide's two wraps, mm.</summary>
    private const double MostFootSpreadMm = 75;

    private const double OddLikeness = 0.2;
    private const double ClosestMm = 30;
    private const double DoubtfulLikeness = 0.56;

    /// <summary>How well the ring of a guide on a straight line tells the ring point's place along the blank, mm; and of its height, as it leans.</summary>
    private const double RingSdMm = 1.2;
    private const double RingLeanShare = 0.04;

    /// <summary>Nothing within this of the handle is a guide, mm.</summary>
    private const double HandleMm = 25;

    /// <summary>What holds the vertices at which the line comes to lie on the blank, null at the others; null altogether where line and rings were not found together.</summary>
    public IReadOnlyList<VertexHold?>? OnBlank { get; init; }

    public static GuideCensus Take(BlankAxis axis, RingSupport support, IReadOnlyList<Vec2> vertices, int tip)
    {
        List<Vec2> line = [.. vertices];
        List<double> doubts = [];
        if (line.Count - tip > 3 && support.UsualLikeness > 0)
        {
            double tipStation = axis.Curve.Nearest(line[tip]).S;
            double[] stations = [.. line.Select(v => axis.Curve.Nearest(v).S)];
            List<Vec2> added = [];
            // Only among guides of the usual kind: the wraps of a two-footed guide look a little like a guide.
            double last = stations.Where((s, i) => i > tip && i < line.Count - 1 && support.At(line[i]).IsUsual).DefaultIfEmpty(0).Max();
            foreach ((double s, double share) in support.Others(tipStation + TipTopMm, last))
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

        List<Vec2> onLine = [];
        List<double> wraps = Wraps(axis, support, line, tip, foundTogether: false);
        foreach (double wrap in wraps)
        {
            bool isPair = wraps.Exists(w => w != wrap && Math.Abs(w - wrap) < MostFootSpreadMm);
            if (support.RingNear(wrap, s => HeightAt(axis, line, s, tip), isPair) is not { } s || !KeepsOrder(axis, line, s, tip))
            {
                doubts.Add(wrap);
                continue;
            }

            Vec2 point = OnLine(axis, line, s, tip);
            if (onLine.All(p => p.DistanceTo(point) > OwnReachMm))
                onLine.Add(point);
        }

        foreach (Vec2 point in onLine)
            line.Insert(InsertAt(axis, line, point, tip), point);
        double[] guides = [.. line.Skip(tip + 1).SkipLast(1).Select(v => axis.Curve.Nearest(v).S)];
        doubts.AddRange(Unmet(axis, line, tip, OwnReachMm, (from, to) => support.Strokes(from, to, s => HeightAt(axis, line, s, tip), guides, WrapReachMm)));
        doubts.AddRange(Unexplained(axis, support, line, tip));
        List<CornerSupport?> supports = [.. line.Select((v, i) => i > tip && i < line.Count - 1 ? support.At(v) : null)];
        foreach (Vec2 point in onLine)
        {
            double lean = RingLeanShare * axis.Curve.Nearest(point).Offset;
            supports[line.IndexOf(point)] = new CornerSupport(0, 0, 1) { OffsetSdMm = Math.Sqrt((RingSdMm * RingSdMm) + (lean * lean)) };
        }

        return new GuideCensus(line, supports, doubts, axis, support.UsualLikeness > 0 || supports.All(s => s is null or { Cover: > 0.75 }));
    }

    /// <summary>Whether a vertex of the line lies on the blank rather than in a ring.</summary>
    public bool LiesOnBlank(int index, Vec2 vertex)
    {
        if (OnBlank is not null)
            return OnBlank[index] is not null;
        (double s, double offset) = Axis.Curve.Nearest(vertex);
        return Math.Abs(offset) < Axis.RadiusMm(s) + OnBlankMm;
    }

    /// <summary>Things with a wrap that stand on the blank away from every corner.</summary>
    public static List<double> Wraps(BlankAxis axis, RingSupport support, List<Vec2> line, int tip, bool foundTogether) =>
        Unmet(axis, line, tip, WrapReachMm, (from, to) => support.Standing(from, to, s => HeightAt(axis, line, s, tip), foundTogether));

    /// <summary>What is found between the tip-top and the handle farther than this from every corner.</summary>
    private static List<double> Unmet(BlankAxis axis, List<Vec2> line, int tip, double reachMm, Func<double, double, List<double>> find)
    {
        double[] stations = [.. line.Skip(tip).SkipLast(1).Select(v => axis.Curve.Nearest(v).S)];
        double last = Math.Min(axis.Curve.Nearest(line[^1]).S, axis.HandleStationMm - HandleMm);
        return [.. find(stations[0] + TipTopMm, last).Where(s => stations.All(c => Math.Abs(c - s) > reachMm))];
    }

    /// <summary>Corners among the usual guides that look like none, and corners too close together.</summary>
    private static IEnumerable<double> Unexplained(BlankAxis axis, RingSupport support, List<Vec2> line, int tip)
    {
        double[] stations = [.. line.Skip(tip).SkipLast(1).Select(v => axis.Curve.Nearest(v).S)];
        double last = stations.Where((_, i) => i > 0 && support.At(line[i + tip]).IsUsual).DefaultIfEmpty(0).Max();
        for (int i = 1; i < stations.Length; i++)
        {
            bool odd = stations[i] < last && support.At(line[i + tip]).Likeness < OddLikeness * support.UsualLikeness;
            if (odd || stations[i] - stations[i - 1] < ClosestMm)
                yield return stations[i];
        }
    }

    /// <summary>Pulls of the corners along the blank to where the guides' look says the rings are.</summary>
    public IReadOnlyList<VertexPull> Pulls(IReadOnlyList<Vec2> now)
    {
        List<VertexPull> pulls = OnBlank is null ? [] : [.. OnBlank.Pulls(now)];
        for (int i = 0; i < now.Count; i++)
        {
            if (Supports[i]?.OffsetMm is not { } offset)
                continue;
            Vec2 along = Axis.Curve.Tangent(Axis.Curve.Nearest(Line[i]).S);
            double moved = along.Dot(now[i] - Line[i]);
            pulls.Add(new VertexPull(i, along, offset - moved, Supports[i]!.OffsetSdMm) { SharesOffset = Supports[i]!.IsOfLooks });
        }

        return pulls;
    }

    /// <summary>
    /// Whether a ring on the straight line there would be no higher than the next one towards the reel and no lower than the next one
    /// towards the tip: guides come down towards the tip (common practice, no source). A line that lies in a ring's middle is lower than its rim.
    /// </summary>
    private static bool KeepsOrder(BlankAxis axis, List<Vec2> line, double station, int tip)
    {
        double height = HeightAt(axis, line, station, tip);
        int next = InsertAt(axis, line, axis.Curve.Point(station), tip);
        return (next >= line.Count - 1 || height < OrderSlackMm + (OrderSlack * Math.Abs(axis.Curve.Nearest(line[next]).Offset)))
            && (next - 1 <= tip || OrderSlackMm + (height * OrderSlack) > Math.Abs(axis.Curve.Nearest(line[next - 1]).Offset));
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

    private static double HeightAt(BlankAxis axis, List<Vec2> line, double station, int tip) =>
        Math.Abs(axis.Curve.Nearest(OnLine(axis, line, station, tip), station).Offset);

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

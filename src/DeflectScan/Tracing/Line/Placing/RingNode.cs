using System.Collections.Concurrent;
using DeflectScan.Geometry;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tracing.Line;

/// <summary>A ring with the heights at which the line may run through it.</summary>
internal sealed class RingNode
{
    /// <summary>Heights are tried this many standard uncertainties to each side of the expected one, and cost no more than the second.</summary>
    private const double ReachSds = 3.5;
    private const double MostCost = 8;

    /// <summary>No line runs nearer to the axis than the blank's surface and this, mm.</summary>
    private const double AboveSurfaceMm = 0.2;

    /// <summary>Farthest that a tangent to the blank is followed, mm.</summary>
    private const double ReachMm = 620;

    /// <summary>How steeply, at most, the line leaves the blank towards the reel once it is out of the band.</summary>
    private const double SteepestWay = 0.05;

    private readonly ConcurrentDictionary<RingNode, double[][]> _from = new();
    private readonly double[] _cost;
    private List<(double Score, Vec2 End)>[]? _waysOn;

    public RingNode(ChordBand band, RingPlace ring, double insideSign, bool isTip)
    {
        BandStrip strip = band.Strip;
        double expected = ring.HeightMm * insideSign * strip.Side;
        Ring = ring;
        Column = strip.ColumnOf(ring.Station);
        double least = isTip ? double.MinValue : band.RadiusMm(Column) + AboveSurfaceMm;
        double low = Math.Max(least, expected - (ReachSds * ring.AcrossSdMm));
        double high = Math.Max(low + strip.PxMm, expected + (ReachSds * ring.AcrossSdMm));
        int count = Math.Max(2, (int)Math.Ceiling((high - low) / strip.PxMm) + 1);
        double[] heights = [.. Enumerable.Range(0, count).Select(i => low + (i * strip.PxMm))];
        _cost = [.. heights.Select(h => Math.Min(MostCost, 0.5 * Math.Pow((h - expected) / ring.AcrossSdMm, 2)))];
        Points = [.. heights.Select(h => strip.PlanePoint(Column, h))];
        Heights = heights;
        Forward = [.. Points.Select(p => band.Tangent(p, Column, 1, ReachMm))];
        Backward = [.. Points.Select(p => band.Tangent(p, Column, -1, ReachMm))];
    }

    public RingPlace Ring { get; }

    public double Column { get; }

    public IReadOnlyList<double> Heights { get; }

    public Vec2[] Points { get; }

    /// <summary>By height: where the tangent towards the reel meets the blank, and what is seen along it.</summary>
    public (int Column, double Score)[] Forward { get; }

    /// <summary>By height: the same towards the tip.</summary>
    public (int Column, double Score)[] Backward { get; }

    /// <summary>What a height costs, as far as it is from the expected one.</summary>
    public double Cost(int height) => _cost[height];

    /// <summary>Whether the straight way between two nodes would cut the blank.</summary>
    public static bool Touches(RingNode a, int heightA, RingNode b, int heightB) =>
        a.Forward[heightA].Column < b.Backward[heightB].Column && a.Forward[heightA].Column < b.Column && b.Backward[heightB].Column > a.Column;

    /// <summary>What is seen from each height of the ring before to each of this: along the chord, or along the tangents where that would cut the blank.</summary>
    public double[][] From(ChordBand band, RingNode before) => _from.GetOrAdd(before, _ =>
    {
        double[][] pieces = new double[Heights.Count][];
        Parallel.For(0, pieces.Length, b => pieces[b] = [.. Enumerable.Range(0, before.Heights.Count).Select(a => Touches(before, a, this, b)
            ? before.Forward[a].Score + Backward[b].Score
            : band.Along(before.Points[a], Points[b], before.Column, Column))]);
        return pieces;
    });

    /// <summary>By height: straight ways on from the ring that stands nearest to the reel, what is seen along each, and where it ends.</summary>
    public List<(double Score, Vec2 End)>[] WaysOn(ChordBand band) => _waysOn ??= [.. Heights.Select((_, height) => WaysOn(band, height).ToList())];

    private IEnumerable<(double Score, Vec2 End)> WaysOn(ChordBand band, int height)
    {
        BandStrip strip = band.Strip;
        int to = strip.Columns - 2;
        Vec2 start = Points[height];
        if ((to - Column) * strip.StepMm < 20)
        {
            yield return (0, strip.PlanePoint(strip.Columns - 1, Heights[height]));
            yield break;
        }

        double top = strip.Height(strip.Levels - 1) + (SteepestWay * (to - Column) * strip.StepMm);
        for (double end = band.RadiusMm(to); end < top; end += 2 * strip.PxMm)
        {
            Vec2 at = strip.PlanePoint(to, end);
            yield return (band.Along(start, at, Column, to), at);
        }
    }
}

using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line.Outside;

/// <summary>A ring, or the tip-top, with the heights at which the line may run through it.</summary>
internal sealed class ChordNode
{
    private const double TipLowMm = -7;
    private const double TipHighMm = 11;

    /// <summary>
    /// The line turns towards the blank in every ring and so lies in the rim nearer to it, a little above the foot of the stroke: usually, its
    /// spread, the most, and the most it costs.
    /// </summary>
    private const double RimAboveFootMm = 0.8;
    private const double RimSpreadMm = 1;
    private const double MostRimMm = 6;
    private const double MostRimCost = 10;

    private const double ReachMm = 620;

    /// <summary>How steeply, at most, the line leaves the blank towards the reel once it is out of the band.</summary>
    private const double SteepestWay = 0.05;

    private ChordNode(ChordBand band, StandingRing? ring, double column, double lowMm, double highMm)
    {
        int count = Math.Max(2, (int)Math.Ceiling((highMm - lowMm) / band.Strip.PxMm) + 1);
        Ring = ring;
        Column = column;
        Station = band.Strip.Station(column);
        Heights = [.. Enumerable.Range(0, count).Select(i => lowMm + (i * band.Strip.PxMm))];
        Points = [.. Heights.Select(h => band.Strip.PlanePoint(column, h))];
        Forward = [.. Points.Select(p => band.Tangent(p, column, 1, ReachMm))];
        Backward = [.. Points.Select(p => band.Tangent(p, column, -1, ReachMm))];
    }

    /// <summary>The ring; null: the tip-top.</summary>
    public StandingRing? Ring { get; }

    public double Column { get; }

    public double Station { get; }

    public double[] Heights { get; }

    public Vec2[] Points { get; }

    /// <summary>By height: where the tangent towards the reel meets the blank, and what is seen along it.</summary>
    public (int Column, double Score)[] Forward { get; }

    /// <summary>By height: the same towards the tip.</summary>
    public (int Column, double Score)[] Backward { get; }

    public static ChordNode Tip(ChordBand band) => new(band, null, band.Strip.ColumnOf(0), TipLowMm, TipHighMm);

    public static ChordNode Of(ChordBand band, StandingRing ring)
    {
        double column = band.Strip.ColumnOf(ring.Station);
        double low = Math.Max(band.RadiusMm(column) + 1, ring.FootMm - 1);
        return new ChordNode(band, ring, column, low, Math.Max(low + 1, Math.Min(ring.FootMm + MostRimMm, ring.TopMm)));
    }

    /// <summary>What the ring's foot says about the line's height in it.</summary>
    public double RimScore(int height)
    {
        double off = (Heights[height] - Ring!.FootMm - RimAboveFootMm) / RimSpreadMm;
        return -Math.Min(MostRimCost, 0.5 * off * off);
    }

    /// <summary>Whether the straight way between two nodes would cut the blank.</summary>
    public static bool Touches(ChordNode a, int heightA, ChordNode b, int heightB) =>
        a.Forward[heightA].Column < b.Backward[heightB].Column && a.Forward[heightA].Column < b.Column && b.Backward[heightB].Column > a.Column;

    /// <summary>Least angle at which the line leaves a, and largest at which it arrives at b, when both heights are known to half a px.</summary>
    public static (double Leaves, double Arrives) Angles(ChordBand band, ChordNode a, int heightA, ChordNode b, int heightB)
    {
        bool touches = Touches(a, heightA, b, heightB);
        Vec2 from = a.Points[heightA];
        Vec2 to = b.Points[heightB];
        Vec2 first = (touches ? band.Surface[a.Forward[heightA].Column] : to) - from;
        Vec2 last = to - (touches ? band.Surface[b.Backward[heightB].Column] : from);
        return (band.Angle(first) - Open(first), band.Angle(last) + Open(last));

        double Open(Vec2 way) => 0.5 * band.Strip.PxMm / way.Length;
    }

    /// <summary>Straight ways on from the ring that stands nearest to the reel: what is seen along each, its least angle, and where it ends.</summary>
    public IEnumerable<(double Score, double Leaves, Vec2 End)> WaysOn(ChordBand band, int height)
    {
        BandStrip strip = band.Strip;
        int to = strip.Columns - 2;
        Vec2 start = Points[height];
        if ((to - Column) * strip.StepMm < 20)
        {
            yield return (0, double.MinValue, strip.PlanePoint(strip.Columns - 1, Heights[height]));
            yield break;
        }

        double top = strip.Height(strip.Levels - 1) + (SteepestWay * (to - Column) * strip.StepMm);
        for (double end = band.RadiusMm(to); end < top; end += 2 * strip.PxMm)
        {
            Vec2 at = strip.PlanePoint(to, end);
            Vec2 way = at - start;
            yield return (band.Along(start, at, Column, to), band.Angle(way) - (strip.PxMm / way.Length), at);
        }
    }
}

using DeflectScan.Geometry;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;
using DeflectScan.Tracing.Line.Outside;

namespace DeflectScan.Tests.Tracing.Line.Outside;

/// <summary>A line made up with its corner 112 mm from the tip.</summary>
public class RingPlacesTests
{
    private const double CornerMm = 112;
    private const double DampingMm = 8;

    private static readonly BlankAxis Axis = new(
        ArcCurve.Through([new(0, 0), new(100, 0), new(200, 0), new(300, 0)]), [0, 300], [4, 4], [0, 0], [0, 0], 300, 1);

    [Fact]
    public void A_stroke_where_the_line_turns_stays()
    {
        (List<OutsideVertex> vertices, List<double> doubts) = Settled(Stroke(111));
        Assert.Equal(111, vertices[1].Ring!.Station);
        Assert.Empty(doubts);
    }

    [Fact]
    public void A_stroke_beside_the_corner_is_exchanged_for_the_one_at_it()
    {
        (List<OutsideVertex> vertices, List<double> doubts) = Settled(Stroke(100), Stroke(112.5));
        Assert.Equal(112.5, vertices[1].Ring!.Station);
        Assert.Empty(doubts);
    }

    [Fact]
    public void A_stroke_beside_the_corner_and_none_at_it_is_a_doubt()
    {
        (List<OutsideVertex> vertices, List<double> doubts) = Settled(Stroke(100));
        Assert.Equal(100, vertices[1].Ring!.Station);
        Assert.Equal([100.0], doubts);
    }

    private static (List<OutsideVertex> Vertices, List<double> Doubts) Settled(params StandingRing[] strokes)
    {
        Vec2[] line = [new(0, 2), new(CornerMm, 6), new(300, 4)];
        List<OffsetSight> sights = [.. Enumerable.Range(0, 40).Select(i => new OffsetSight(i % 2, ((i / 2) + 0.5) / 20, 0, 0.05))];
        PolylineSolution free = PolylineFit.Step(line, sights, [], DampingMm);
        return RingPlaces.Settled(Axis, strokes, free, DampingMm, [OutsideVertex.End, new OutsideVertex(strokes[0], false), OutsideVertex.End]);
    }

    private static StandingRing Stroke(double station) => new(station, station, 5, 11, 10);
}

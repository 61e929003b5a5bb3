using DeflectScan.Geometry;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;
using DeflectScan.Tracing.Reading;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tests.Tracing.Line;

/// <summary>A line made up over a straight blank: it speaks for a ring where it turns the way a bent blank turns it, against one where it runs straight.</summary>
public class LineTurnsTests
{
    private const double HeightMm = 8;
    private const double RingMm = 300;

    private static readonly BlankAxis Axis = new(ArcCurve.Through([new(0, 0), new(300, 0), new(600, 0), new(900, 0)]), [0, 900], [4, 4], [0, 0], [0, 0], 900, 1);

    [Theory]
    [InlineData(0.05)]
    [InlineData(0.012)]
    public void A_plain_turn_to_the_inside_speaks_for_a_ring(double turn) => Assert.True(Line(turn).Of(InUse(RingMm)) > 2);

    [Theory]
    [InlineData(0)]
    [InlineData(0.001)]
    [InlineData(-0.03)]
    public void No_turn_or_one_the_wrong_way_speaks_against_a_ring_that_was_read_beside_the_line(double turn) =>
        Assert.True(Line(turn).Of(InUse(RingMm) with { HeightMm = HeightMm + 5 }) < -2);

    /// <summary>Where the stiff butt hardly bends a line runs through its ring without turning.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(0.001)]
    public void No_turn_in_a_ring_that_was_read_on_the_straight_line_says_nothing(double turn) => Assert.Equal(0, Line(turn).Of(InUse(RingMm)));

    [Fact]
    public void A_turn_that_may_be_chance_says_nothing()
    {
        Assert.Equal(0, Line(0.0045).Of(InUse(RingMm)));
        Assert.Equal(0, Line(0.012, sdMm: 1.5).Of(InUse(RingMm)));
    }

    [Theory]
    [InlineData(1.5, 20)]
    [InlineData(10, 3)]
    public void A_line_that_was_hardly_seen_says_nothing(double evidence, int windows)
    {
        LineTurns line = Line(0.05, evidence: evidence, count: windows);
        Assert.Equal(0, line.Of(InUse(RingMm)));
        Assert.Equal(0, line.Of(NotInUse(150, HeightMm)));
    }

    /// <summary>Where a segment was not seen, what a further ring would explain of the picture counts, up to a bound; an unlikely place is not tried.</summary>
    [Theory]
    [InlineData(25, -1, 2.5)]
    [InlineData(-500, -1, 0)]
    [InlineData(500, -1, 12)]
    [InlineData(500, -7, 0)]
    public void Where_the_line_was_not_seen_what_a_ring_explains_counts(double explains, double read, double says) =>
        Assert.Equal(says, Line(0.05, evidence: 1.5, explains: explains).Of(new RingCandidate(150, HeightMm, read)));

    /// <summary>Before a straight blank a ring as tall as its neighbours lies on the line and does not turn it; one read beside the line cannot be there.</summary>
    [Fact]
    public void A_place_that_the_line_passes_straight_may_be_a_ring_where_one_fits_and_not_beside_the_line()
    {
        LineTurns line = Line(0.05);
        Assert.Equal(0, line.Of(NotInUse(150, HeightMm)));
        Assert.True(line.Of(NotInUse(150, HeightMm + 6)) < -4);
        Assert.Equal(0, line.Of(NotInUse(-30, HeightMm)));
    }

    /// <summary>A tall guide's ring is wide: the contact is read somewhere in it.</summary>
    [Theory]
    [InlineData(60, 9, true)]
    [InlineData(60, 14, false)]
    [InlineData(8, 4, false)]
    public void How_far_beside_the_line_a_ring_can_be_read_grows_with_its_height(double heightMm, double besideMm, bool says)
    {
        LineTurns line = Line(0.05, heightMm: heightMm);
        Assert.Equal(says, line.Of(NotInUse(150, heightMm - besideMm)) == 0);
        Assert.Equal(says, Line(0, heightMm: heightMm).Of(InUse(RingMm) with { HeightMm = heightMm - besideMm }) == 0);
    }

    /// <summary>
    /// Beside a blank bent to a circle of 2 m a line of 300 mm stands up to 5.6 mm higher between its rings than at them (300² / 8 / 2000, elementary
    /// geometry): no guide between two of 8 mm is 13 mm tall. Next to either ring it is.
    /// </summary>
    [Fact]
    public void Beside_a_bent_blank_a_straight_line_shows_that_no_ring_stands_between()
    {
        const double Radius = 2000;
        ArcCurve bent = ArcCurve.Through([.. Enumerable.Range(0, 61).Select(i => i * 10 / Radius).Select(a => new Vec2(Radius * Math.Sin(a), Radius * (1 - Math.Cos(a))))]);
        BlankAxis axis = new(bent, [0, 600], [4, 4], [0, 0], [0, 0], 600, 1);
        Vec2 At(double s) => bent.Point(s) + (bent.Normal(s) * HeightMm);
        Vec2[] vertices = [At(0), At(150), At(450), At(600)];
        LineVertex[] kinds = [.. new[] { 0.0, 150, 450, 600 }.Select(s => new LineVertex(new RingPlace(s, HeightMm, 0.9, 0.6, Source.Traced), false))];
        List<LineWindow> windows = [.. Enumerable.Range(0, 20).Select(i => new LineWindow((i + 0.5) / 20, 0, 0.05, 10))];
        LineTurns line = new(axis, 1, vertices, [windows, windows, windows], kinds, _ => 0);
        Assert.True(line.Of(NotInUse(300, HeightMm + 5.6)) < -4);
        Assert.Equal(0, line.Of(NotInUse(164, HeightMm + 0.5)));
        Assert.False(RingRoom.At(axis, 1, isInside: true, At(150), At(450), 300));
        Assert.True(RingRoom.At(axis, 1, isInside: true, At(150), At(450), 160));

        // Outside the line dips towards the blank.
        Vec2 Out(double s) => bent.Point(s) - (bent.Normal(s) * HeightMm);
        Assert.False(RingRoom.At(axis, -1, isInside: false, Out(150), Out(450), 300));
        Assert.True(RingRoom.At(axis, -1, isInside: false, Out(150), Out(450), 440));
    }

    [Fact]
    public void The_line_says_nothing_of_the_tip_top() => Assert.Equal(0, Line(0.05).Of(InUse(0)));

    /// <summary>The same seen in a mirror: the inside is on the other side of the axis.</summary>
    [Theory]
    [InlineData(0.05)]
    [InlineData(0)]
    [InlineData(-0.03)]
    public void A_mirror_changes_nothing(double turn)
    {
        Assert.Equal(Line(turn).Of(InUse(RingMm)), Line(turn, inside: -1).Of(InUse(RingMm)));
        Assert.Equal(Line(turn).Of(NotInUse(150, 14)), Line(turn, inside: -1).Of(NotInUse(150, 14)));
    }

    // From the tip (0) through a ring at 300 mm to an end at 600 mm.
    private static LineTurns Line(double turn, double inside = 1, double evidence = 10, int count = 20, double sdMm = 0.05, double explains = 0, double heightMm = HeightMm)
    {
        Vec2[] vertices = [new(0, inside * heightMm), new(RingMm, inside * heightMm), new(600, inside * (heightMm + (300 * Math.Tan(turn))))];
        LineVertex[] kinds = [.. new[] { 0, RingMm }.Select(s => new LineVertex(new RingPlace(s, heightMm, 0.9, 0.6, Source.Traced), false)), LineVertex.End];
        List<LineWindow> windows = [.. Enumerable.Range(0, count).Select(i => new LineWindow((i + 0.5) / count, 0, sdMm, evidence))];
        return new LineTurns(Axis, inside, vertices, [windows, windows], kinds, _ => explains);
    }

    private static RingCandidate InUse(double station) => new(station, HeightMm, 3);

    private static RingCandidate NotInUse(double station, double height) => new(station, height, -3);
}

using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Measuring.Figures;
using DeflectScan.Tracing;

namespace DeflectScan.Tests.Pipeline;

/// <summary>A tip made up: the blank comes from the right, its tip-top's ring at the origin, the cord pulls down.</summary>
public class TipCheckTests
{
    private const double PxMm = 0.6;
    private static readonly Vec2 Tip = new(0, 0);
    private static readonly CordTrace Cord = new(new Vec2(2, -16), new Vec2(2, -400), 0.05, 3, 0.9);

    [Fact]
    public void A_line_that_hangs_clear_of_the_cord_is_taken() => Assert.Null(Check(Line(hangs: new Vec2(-40, -130)), Cord));

    [Fact]
    public void A_line_that_keeps_to_the_cords_edge_is_put_up_for_review() =>
        Assert.Equal(FindingCode.LineNotSeen, Check(Line(hangs: new Vec2(0.4, -130)), Cord)?.Code);

    [Fact]
    public void Where_the_ring_itself_was_read_its_reading_counts_beside_such_a_line()
    {
        LineTrace line = Line(hangs: new Vec2(0.4, -130)) with { TipReadSdMm = 4 };
        Assert.Null(Check(line, Cord));
        Assert.Equal(5, TipCheck.ByReading(Trace(line), line, Cord, PxMm).Rings[^1].AlongSdMm, 1e-9);
        LineTrace clear = Line(hangs: new Vec2(-40, -130)) with { TipReadSdMm = 4 };
        Assert.Equal(3, TipCheck.ByReading(Trace(clear), clear, Cord, PxMm).Rings[^1].AlongSdMm, 1e-9);
    }

    [Fact]
    public void A_line_end_where_the_cord_pulls_is_taken() => Assert.Null(Check(Line(hangs: null), Cord));

    [Theory]
    [InlineData(14)]
    [InlineData(-14)]
    public void A_line_end_far_from_where_the_cord_pulls_is_put_up_for_review(double off)
    {
        CordTrace beside = Cord with { NearMm = new Vec2(off, -16), FarMm = new Vec2(off, -400) };
        Finding? finding = Check(Line(hangs: null), beside);
        Assert.Equal(FindingCode.LineNotSeen, finding?.Code);
        Assert.Contains("14 mm", finding!.Message, StringComparison.Ordinal);
    }

    /// <summary>The tip of a bent blank points the way its cord pulls: what lies back along the blank is another thing.</summary>
    [Fact]
    public void A_bar_back_along_the_blank_is_no_cord() =>
        Assert.Equal(FindingCode.LineNotSeen, Check(Line(hangs: null), Cord with { NearMm = new Vec2(10, 1), FarMm = new Vec2(390, 20) })?.Code);

    [Fact]
    public void A_tip_that_a_person_marked_is_theirs() => Assert.Null(Check(Line(hangs: new Vec2(0.4, -130)), Cord, isMarked: true));

    private static Finding? Check(LineTrace line, CordTrace cord, bool isMarked = false) => TipCheck.Of(Trace(line), line, cord, PxMm, isMarked);

    private static PlaneTrace Trace(LineTrace line)
    {
        BlankAxis axis = new(ArcCurve.Through([new(0, -2), new(100, -3), new(200, -6), new(300, -12)]), [0, 300], [2, 4], [0, 0], [0, 0], 300, 1);
        return PlaneTrace.AtTip(axis, [.. line.Rings.Select(r => r.ContactMm)]);
    }

    private static LineTrace Line(Vec2? hangs) => new(
        BendSide.Outside,
        [new RingSighting(new Vec2(90, 3), 0.4, 0.1, null, false, Source.Traced), new RingSighting(Tip, 3, 0.3, null, true, Source.Traced)],
        [Source.Traced], null, hangs)
    {
        IsTipAtLineEnd = hangs is null,
    };
}

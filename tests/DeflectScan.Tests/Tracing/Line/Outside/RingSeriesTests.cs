using DeflectScan.Tracing.Line.Outside;

namespace DeflectScan.Tests.Tracing.Line.Outside;

/// <summary>Strokes made up after the guides of a casting rod: rings that stand alike near the tip and larger towards the reel (common practice, no source).</summary>
public class RingSeriesTests
{
    private const double PxMm = 0.6;

    private static readonly StandingRing[] Guides =
    [
        Stroke(90, 4.8, 11.4), Stroke(190, 4.8, 11.4), Stroke(310, 5.0, 11.4), Stroke(440, 4.8, 11.8), Stroke(600, 5.4, 12.9), Stroke(800, 6.0, 14.5), Stroke(1050, 8.3, 22.0),
    ];

    [Fact]
    public void Running_guides_gain_and_clutter_loses()
    {
        StandingRing[] clutter = [Stroke(250, 12.9, 26.8), Stroke(520, 13.5, 20.3), Stroke(700, 2.5, 33.0)];
        List<StandingRing> judged = RingSeries.Judged([.. Guides.Concat(clutter).OrderBy(r => r.Station)], PxMm);
        Assert.All(judged.Where(r => Guides.SkipLast(1).Any(g => g.Station == r.Station)), r => Assert.True(r.Company > 0, $"the guide at {r.Station} loses {r.Company:0.0}"));
        Assert.All(judged.Where(r => clutter.Any(c => c.Station == r.Station)), r => Assert.True(r.Company < -2, $"clutter at {r.Station} gets {r.Company:0.0}"));

        // The first guide may be any larger: its company hardly speaks for or against it.
        Assert.InRange(judged[^1].Company, -2, 2);
    }

    [Fact]
    public void A_ring_whose_wrap_is_not_seen_is_plain_in_its_company()
    {
        StandingRing[] rings = [.. Guides.Select(g => g.Station == 310 ? g with { Score = 5 } : g)];
        Assert.False(OutsideTrace.IsPlain(rings[2]));
        Assert.True(OutsideTrace.IsPlain(RingSeries.Judged(rings, PxMm)[2]));
    }

    [Fact]
    public void Two_strokes_are_no_series() =>
        Assert.All(RingSeries.Judged([.. Guides.Take(2)], PxMm), r => Assert.Equal(10, r.Score));

    [Fact]
    public void Company_is_counted_once()
    {
        List<StandingRing> once = RingSeries.Judged(Guides, PxMm);
        List<StandingRing> twice = RingSeries.Judged(once, once, PxMm);
        Assert.Equal(once.Select(r => r.Score), twice.Select(r => r.Score));
    }

    private static StandingRing Stroke(double station, double foot, double top) => new(station / PxMm, station, foot, top, 10);
}

using DeflectScan.Tracing.Reading;

namespace DeflectScan.Tests.Tracing.Reading;

/// <summary>A strip read again at other sizes: the same places, better judged. Against the exact truth of strips held back from training.</summary>
public class SecondLookTests
{
    /// <summary>Laid back by a wrong scale or half a pixel beside, the mean would stand elsewhere, or be no peak at all.</summary>
    [Fact]
    public void WhatIsReadAgainStandsWhereItWas()
    {
        foreach (FixedStrip strip in FixedStrip.All().Take(2))
        {
            StripReading again = strip.ReadAgain(strip.Read());
            RingCandidate[] rings = [.. Peaks.Of(again, again.Ring, 0).OrderByDescending(r => r.Station)];
            Assert.Equal(strip.Rings.Length, rings.Length);
            Assert.All(rings.Zip(strip.Rings.OrderBy(r => r[0])), p =>
            {
                Assert.InRange(Math.Abs(p.First.Station - strip.Frame.Station(p.Second[0])), 0, 2);
                Assert.InRange(Math.Abs(p.First.HeightMm - StripFrame.Height(p.Second[1])), 0, 2);
            });
        }
    }

    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void PlacesAreJudgedBetterThanByOneLook()
    {
        double one = 0;
        double two = 0;
        foreach (FixedStrip strip in FixedStrip.All())
        {
            StripReading first = strip.Read();
            one += Surprise(strip, first);
            two += Surprise(strip, strip.ReadAgain(first));
        }

        Assert.True(two < 0.9 * one, FormattableString.Invariant($"{two:0.00} for {one:0.00}"));
    }

    // How much the truth surprises whoever believes the probabilities: minus the logarithm of what they give it.
    private static double Surprise(FixedStrip strip, StripReading reading)
    {
        double first = strip.Frame.Station(strip.Tip[0]) + 22;
        return Peaks.Of(reading, reading.Ring, RingDecoder.LeastLogOdds).Where(p => p.Station > first).Sum(p =>
        {
            bool right = strip.Rings.Any(r => Math.Abs(strip.Frame.Station(r[0]) - p.Station) < 12 && Math.Abs(StripFrame.Height(r[1]) - p.HeightMm) < 12);
            return Math.Log(1 + Math.Exp(right ? -p.LogOdds : p.LogOdds));
        });
    }
}

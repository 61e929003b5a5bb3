using DeflectScan.Tracing.Reading;

namespace DeflectScan.Tests.Tracing.Reading;

/// <summary>From what is read at places to a rod's rings: against every chain of places counted one by one, which is what the decoder shortens.</summary>
public class RingDecoderTests
{
    private const double HandleMm = 1100;

    [Fact]
    public void Plain_places_are_the_rings_and_lie_where_they_were_read()
    {
        RingCandidate[] rings = [new(93.4, 7.2, 6), new(201.7, 8.3, 7), new(349.1, 12.6, 5), new(588.8, 21.3, 6)];
        DecodedRings decoded = RingDecoder.Decode(MadeReading.Of(rings.Reverse(), [new(-3.3, 2.1, 5)], 8), null, HandleMm);
        Assert.True(decoded.Inside);
        Assert.Equal(rings.Length, decoded.Rings.Count);
        Assert.All(decoded.Rings.Zip(rings), r => Same(r.Second, r.First));
        Same(new(-3.3, 2.1, 5), decoded.TipTop!);
        Assert.InRange(decoded.SideProbability, 0.999, 1);
    }

    /// <summary>Log-odds below 0 are more likely no guide; a place weighed is named whether in use or not.</summary>
    [Fact]
    public void A_place_that_is_more_likely_none_is_weighed_and_left_out()
    {
        DecodedRings decoded = RingDecoder.Decode(MadeReading.Of([new(100, 7, 6), new(200, 7, -1.5), new(300, 9, 6)]), true, HandleMm);
        Assert.Equal([100.0, 300], decoded.Rings.Select(r => Math.Round(r.Station, 3)));
        WeighedPlace middle = decoded.Places[1];
        Assert.False(middle.InUse);
        Assert.Equal(1 / (1 + Math.Exp(1.5)), middle.Probability, 1e-3);
    }

    [Theory]
    [InlineData(20, 1)]
    [InlineData(24, 2)]
    public void Two_places_nearer_than_feet_allow_are_one_ring(double apartMm, int count)
    {
        DecodedRings decoded = RingDecoder.Decode(MadeReading.Of([new(200, 8, 4), new(200 + apartMm, 8, 5)]), true, HandleMm);
        Assert.Equal(count, decoded.Rings.Count);
        Assert.Equal(200 + apartMm, decoded.Rings[^1].Station, 1e-3);
    }

    [Fact]
    public void What_lies_beside_the_tip_top_or_in_the_handle_is_no_ring()
    {
        DecodedRings decoded = RingDecoder.Decode(MadeReading.Of([new(14, 5, 6), new(300, 9, 6), new(1120, 30, 6)], [new(0, 2, 5)]), true, HandleMm);
        Assert.Equal(300, Assert.Single(decoded.Rings).Station, 1e-3);
    }

    [Fact]
    public void A_tip_top_is_looked_for_about_the_end_alone()
    {
        Assert.Null(RingDecoder.Decode(MadeReading.Of([new(300, 9, 6)], [new(80, 5, 6)]), true, HandleMm).TipTop);
        Assert.Null(RingDecoder.Decode(MadeReading.Of([new(300, 9, 6)], [new(0, 30, 6)]), true, HandleMm).TipTop);
        Assert.Equal(20, RingDecoder.Decode(MadeReading.Of([new(300, 9, 6)], [new(80, 5, 6), new(20, 3, 1)]), true, HandleMm).TipTop!.Station, 1e-3);
    }

    [Theory]
    [InlineData(0, 3, 4)]
    [InlineData(5, 3, -4)]
    public void A_guide_read_where_the_tip_top_is_may_be_what_was_taken_for_it(double station, double height, double odds)
    {
        DecodedRings decoded = RingDecoder.Decode(MadeReading.Of([new(300, 9, 6), new(station, height, odds)], [new(0, 3, 3)]), true, HandleMm);
        Assert.Equal(1 / (1 + Math.Exp(-odds)), decoded.TipIsGuide, 1e-3);
        Assert.Equal(300, Assert.Single(decoded.Rings).Station, 1e-3);
    }

    [Fact]
    public void A_tip_top_that_reads_as_nothing_else_is_no_guide() =>
        Assert.InRange(RingDecoder.Decode(MadeReading.Of([new(300, 9, 6), new(40, 3, 4)], [new(0, 3, 3)]), true, HandleMm).TipIsGuide, 0, 0.001);

    /// <summary>Three rings inside against two outside; then what is read of the side; then what a person says.</summary>
    [Fact]
    public void The_side_is_the_one_that_places_and_reading_make_likelier()
    {
        RingCandidate[] places = [new(100, 8, 2), new(200, 9, 2), new(400, 14, 2), new(150, -8, 3), new(300, -9, 2.5)];
        DecodedRings unsure = RingDecoder.Decode(MadeReading.Of(places), null, HandleMm);
        Assert.True(unsure.Inside);
        double inside = Math.Log(1 + Math.Exp(2)) * 3;
        double outside = Math.Log(1 + Math.Exp(3)) + Math.Log(1 + Math.Exp(2.5));
        Assert.Equal(1 / (1 + Math.Exp(outside - inside)), unsure.SideProbability, 1e-4);
        Assert.False(RingDecoder.Decode(MadeReading.Of(places, insideLogOdds: -3), null, HandleMm).Inside);
        DecodedRings told = RingDecoder.Decode(MadeReading.Of(places, insideLogOdds: 9), false, HandleMm);
        Assert.False(told.Inside);
        Assert.Equal(1, told.SideProbability);
        Assert.All(told.Rings, r => Assert.True(r.HeightMm < 0));
    }

    /// <summary>A ring far higher than the next one towards the reel: the weaker of the two goes.</summary>
    [Fact]
    public void What_stands_out_of_the_order_of_heights_goes()
    {
        RingCandidate[] places = [new(100, 8, 6), new(200, 40, 3), new(300, 10, 6), new(500, 14, 6)];
        Assert.Equal([100.0, 300, 500], RingDecoder.Decode(MadeReading.Of(places), true, HandleMm).Rings.Select(r => Math.Round(r.Station, 3)));
        places[1] = places[1] with { HeightMm = 11 };
        Assert.Equal(4, RingDecoder.Decode(MadeReading.Of(places), true, HandleMm).Rings.Count);
    }

    /// <summary>What the line says of a place is added to what was read of it.</summary>
    [Fact]
    public void The_line_takes_a_ring_away_or_brings_one()
    {
        StripReading reading = MadeReading.Of([new(100, 7, 2), new(200, 7, -1.5), new(300, 9, 6)]);
        DecodedRings decoded = RingDecoder.Decode(reading, true, HandleMm, p => p.Station < 150 ? -4.5 : p.Station < 250 ? 4.5 : 0);
        Assert.Equal([200.0, 300], decoded.Rings.Select(r => Math.Round(r.Station, 3)));
        Assert.Equal(1 / (1 + Math.Exp(2.5)), decoded.Places[0].Probability, 1e-3);
        Assert.Equal(1 / (1 + Math.Exp(-3)), decoded.Places[1].Probability, 1e-3);
    }

    [Fact]
    public void Nothing_read_is_no_ring()
    {
        DecodedRings decoded = RingDecoder.Decode(MadeReading.Of([]), null, HandleMm);
        Assert.Empty(decoded.Rings);
        Assert.Empty(decoded.Places);
        Assert.Equal(0.5, decoded.SideProbability, 1e-9);
    }

    [Fact]
    public void Best_chain_and_every_probability_are_those_of_all_chains_counted()
    {
        for (int seed = 0; seed < 60; seed++)
        {
            Random random = new(seed);
            List<RingCandidate> places = [];
            double station = 40;
            for (int i = 0; i < 11; i++)
            {
                station += 16 + (random.Next(3) * 14 * random.NextDouble());
                double height = (4 + (26 * random.NextDouble())) * (random.Next(4) == 0 ? -1 : 1);
                places.Add(new RingCandidate(station, height, (7 * random.NextDouble()) - 3));
            }

            StripReading reading = MadeReading.Of(places, insideLogOdds: random.NextDouble() - 0.5);
            DecodedRings decoded = RingDecoder.Decode(reading, null, HandleMm);
            Counted inside = new([.. places.Where(p => p.HeightMm > 0)]);
            Counted outside = new([.. places.Where(p => p.HeightMm < 0)]);
            double insideLog = Math.Log(inside.Sum) + Math.Min(0, reading.InsideLogOdds);
            double outsideLog = Math.Log(outside.Sum) + Math.Min(0, -reading.InsideLogOdds);
            Assert.Equal(insideLog >= outsideLog, decoded.Inside);
            Assert.Equal(1 / (1 + Math.Exp(-Math.Abs(insideLog - outsideLog))), decoded.SideProbability, 1e-3);
            Counted chosen = decoded.Inside ? inside : outside;
            Assert.Equal(chosen.Places.Count, decoded.Places.Count);
            for (int i = 0; i < chosen.Places.Count; i++)
            {
                Same(chosen.Places[i], decoded.Places[i].Place);
                Assert.Equal(chosen.Weights[i] / chosen.Sum, decoded.Places[i].Probability, 1e-3);
                Assert.Equal(chosen.Best.Contains(i), decoded.Places[i].InUse);
            }

            Assert.Equal(chosen.Best.Count, decoded.Rings.Count);
        }
    }

    private static void Same(RingCandidate expected, RingCandidate actual)
    {
        Assert.Equal(expected.Station, actual.Station, 1e-2);
        Assert.Equal(expected.HeightMm, actual.HeightMm, 1e-2);
        Assert.Equal(expected.LogOdds, actual.LogOdds, 1e-3);
    }

    /// <summary>Every subset in which neighbours are 22 mm apart or more, a millimetre of disorder beyond 2 mm and 12 % costing half a log-odds.</summary>
    private sealed class Counted
    {
        public Counted(IReadOnlyList<RingCandidate> places)
        {
            Places = places;
            Weights = new double[places.Count];
            double top = double.NegativeInfinity;
            for (int set = 0; set < 1 << places.Count; set++)
            {
                int[] chain = [.. Enumerable.Range(0, places.Count).Where(i => (set & (1 << i)) != 0)];
                if (chain.Zip(chain.Skip(1)).Any(p => places[p.Second].Station - places[p.First].Station < 22))
                    continue;
                double log = chain.Sum(i => places[i].LogOdds) - chain.Zip(chain.Skip(1)).Sum(p =>
                    0.5 * Math.Max(0, Math.Abs(places[p.First].HeightMm) - (1.12 * Math.Abs(places[p.Second].HeightMm)) - 2));
                Sum += Math.Exp(log);
                foreach (int i in chain)
                    Weights[i] += Math.Exp(log);
                if (log > top)
                    (top, Best) = (log, chain);
            }
        }

        public IReadOnlyList<RingCandidate> Places { get; }

        public double Sum { get; }

        public double[] Weights { get; }

        public IReadOnlyList<int> Best { get; } = [];
    }
}

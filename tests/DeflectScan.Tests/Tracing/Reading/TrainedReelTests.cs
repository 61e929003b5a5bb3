using System.Globalization;
using DeflectScan.Tracing.Reading;
using Xunit.Abstractions;

namespace DeflectScan.Tests.Tracing.Reading;

/// <summary>
/// What the reel's network is worth on 40 pictures of scenes held back from training, against the scenes' exact truth; the bars are what these weights measured
/// when they were put in, a little rounded up.
/// </summary>
public class TrainedReelTests(ITestOutputHelper output)
{
    private static readonly Lazy<IReadOnlyList<(double? Error, ReelReading Reading)>> Read = new(() =>
        [.. FixedReel.All().Select(f => (Reading: f.Read(), f.Reel)).Select(r => (r.Reel is { } column ? r.Reading.Station - FixedReel.Frame.Station(column) : (double?)null, r.Reading))]);

    [Fact]
    public void A_reel_is_seen_where_there_is_one_and_only_there()
    {
        double[] with = [.. Read.Value.Where(r => r.Error is not null).Select(r => r.Reading.Probability)];
        double[] without = [.. Read.Value.Where(r => r.Error is null).Select(r => r.Reading.Probability)];
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"least with a reel {with.Min():0.000}, most without {without.Max():0.000}"));
        Assert.Equal((33, 7), (with.Length, without.Length));
        Assert.All(without, p => Assert.True(p < ReelFinder.LeastProbability));
        Assert.InRange(with.Count(p => p < ReelFinder.LeastProbability), 0, 1);
    }

    [Fact]
    public void Its_front_stands_where_it_is_read_within_what_is_said_of_it()
    {
        (double Error, double Spread)[] said = [.. Read.Value.Where(r => r.Error is not null && ReelFinder.IsSaid(r.Reading)).Select(r => (Math.Abs(r.Error!.Value), ReelFinder.SdMm(r.Reading)))];
        double[] errors = [.. said.Select(s => s.Error).Order()];
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{said.Length} said; error at half {errors[errors.Length / 2]:0.00} mm, at 95 % {errors[(int)(0.95 * errors.Length)]:0.00} mm"));
        Assert.InRange(said.Length, 30, 33);
        Assert.InRange(errors[(int)(0.95 * errors.Length)], 0, 4);
        Assert.InRange(said.Count(s => s.Error <= 2 * s.Spread) / (double)said.Length, 0.9, 1);
    }
}

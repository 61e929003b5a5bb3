using System.Globalization;
using System.Security.Cryptography;
using DeflectScan.Tracing.Reading;
using DeflectScan.Tracing.Rings;
using Xunit.Abstractions;

namespace DeflectScan.Tests.Tracing.Reading;

/// <summary>
/// The weights and what they are worth, on 40 strips of scenes held back from training. Checked against the scenes' exact truth; the bars are what
/// these weights measured when they were put in, a little rounded up, so that worse ones do not slip in. docs/reader.md is written anew with new weights.
/// </summary>
public class TrainedReaderTests(FixedReadings readings, ITestOutputHelper output) : IClassFixture<FixedReadings>
{
    [Theory]
    [InlineData("reader.onnx", "93345f9eda7da3c583ab3d83c273fdb45ce8e3072bccbc6714d7b0c97209e229")]
    [InlineData("reel.onnx", "d5dacfaae58226019cca4256c9fb131e71a4d3dd75c7a09dad57e25b99cb86ce")]
    [InlineData("finder.onnx", "74d550e336d8245c10abf8b9f7b750ea72b5a26477c196c32c8770af5ebf0167")]
    public void TheWeightsAreThoseOfTheModelCard(string file, string sha256)
    {
        using Stream weights = typeof(StripReader).Assembly.GetManifestResourceStream("DeflectScan.Reading." + file)!;
        Assert.Equal(sha256, Convert.ToHexStringLower(SHA256.HashData(weights)));
        Assert.Contains(sha256, File.ReadAllText(Path.Combine(DeflectScan.Scenes.Repository.Root, "docs", "reader.md")), StringComparison.Ordinal);
    }

    [Fact]
    public void RingsAreNeitherMissedNorInventedMoreThanMeasured()
    {
        Assert.Equal(40, readings.Scores.Count);
        Assert.Equal(330, readings.Strips.Sum(s => s.Rings.Length));
        int missed = readings.Scores.Sum(s => s.Missed);
        int invented = readings.Scores.Sum(s => s.Invented);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"missed {missed}, invented {invented}; {readings.MsByTwo:0} ms a strip by two threads, {readings.MsByOne:0} by one"));
        Assert.InRange(missed, 0, 1);
        Assert.InRange(invented, 0, 0);
    }

    [Fact]
    public void SidesAreRightAndSurelyWhereTheyAreSaidSurely()
    {
        Assert.All(readings.Scores, s => Assert.True(s.SideRight));
        Assert.All(readings.Strips.Zip(readings.ByTwo), p =>
        {
            DecodedRings decoded = RingDecoder.Decode(p.Second, null, p.First.Frame.StartStation - StripFrame.HandleMm);
            Assert.Equal(p.First.Inside, decoded.Inside);
            Assert.InRange(decoded.SideProbability, RingDoubts.Sure, 1);
        });
    }

    [Fact]
    public void RingsStandWhereTheyAreRead()
    {
        double[] along = [.. readings.Scores.SelectMany(s => s.StationErrorsMm)];
        double[] across = [.. readings.Scores.SelectMany(s => s.HeightErrorsMm)];
        Below(0.25, along, 0.5, "station, half of them");
        Below(1.3, along, 0.95, "station, 95 %");
        Below(0.16, across, 0.5, "height, half of them");
        Below(0.7, across, 0.95, "height, 95 %");
    }

    /// <summary>Not one bit of a reading depends on the number of threads.</summary>
    [Fact]
    public void ThreadsDoNotChangeAReading()
    {
        double most = 0;
        foreach ((StripReading two, StripReading one) in readings.ByTwo.Zip(readings.ByOne))
        {
            most = Math.Max(most, Math.Abs(two.InsideLogOdds - one.InsideLogOdds));
            foreach ((ReadingMap a, ReadingMap b) in Maps(two).Zip(Maps(one)))
                most = Math.Max(most, a.Values.Zip(b.Values, (u, v) => Math.Abs(u - v)).Max());
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"largest difference {most:g3}"));
        Assert.Equal(0, most);
    }

    private static ReadingMap[] Maps(StripReading r) => [r.Ring, r.Tip, r.Bare, r.Hidden, r.Body, r.AlongCells, r.AcrossCells];

    private void Below(double bar, double[] errors, double share, string what)
    {
        Array.Sort(errors);
        double at = errors[(int)Math.Ceiling(share * errors.Length) - 1];
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{what}: {at:0.000} mm of {errors.Length}"));
        Assert.True(at <= bar, string.Create(CultureInfo.InvariantCulture, $"{what}: {at:0.000} mm, the bar is {bar:0.000}"));
    }
}

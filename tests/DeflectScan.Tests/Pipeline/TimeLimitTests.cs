using System.Diagnostics;
using DeflectScan.Findings;
using DeflectScan.Measuring;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Pipeline;

/// <summary>A measurement that takes too long is given up in one sentence.</summary>
public class TimeLimitTests
{
    [Fact]
    public void AMeasurementBeyondItsTimeIsRefused()
    {
        Stopwatch watch = Stopwatch.StartNew();
        Measurement m = MeasurePipeline.Measure(Repository.Photo("clean-spinning"), new MeasureOptions { TimeLimit = TimeSpan.FromMilliseconds(30) });
        Assert.True(watch.Elapsed < TimeSpan.FromSeconds(5));
        Assert.Equal(MeasurementStatus.Refused, m.Status);
        Finding finding = Assert.Single(m.Findings);
        Assert.Contains("allow more time", finding.Message, StringComparison.Ordinal);
    }
}

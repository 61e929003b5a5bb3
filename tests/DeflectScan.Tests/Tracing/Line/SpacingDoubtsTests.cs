using DeflectScan.Findings;
using DeflectScan.Scenes;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Tests.Tracing.Line;

/// <summary>Layouts of rods that exist in the test photos are believed; one ring too many or too few among them is not.</summary>
public class SpacingDoubtsTests
{
    public static TheoryData<string> Rods => [.. Directory.GetDirectories(Repository.TestImages)
        .Where(d => File.Exists(Path.Combine(d, "truth.json"))).Select(d => Path.GetFileName(d)!)];

    [Theory]
    [MemberData(nameof(Rods))]
    public void TrueLayoutsAreBelieved(string name) => Assert.Empty(SpacingDoubts.Of(Stations(name)));

    [Theory]
    [MemberData(nameof(Rods))]
    public void ARingTooManyIsDoubted(string name)
    {
        double[] seen = Stations(name);
        for (int i = 0; i + 1 < seen.Length; i++)
        {
            // Beside a true one, by a fifth of the way to the next: nothing stands there.
            double[] doubled = [.. seen.Append(seen[i] + ((seen[i + 1] - seen[i]) / 5)).OrderDescending()];
            string pair = i + 2 < doubled.Length ? $"Guides {i + 1} and {i + 2} seem only" : $"Guide {i + 1} and the tip-top seem only";
            Assert.Contains(SpacingDoubts.Of(doubled), f => f.Code == FindingCode.GuidesUncertain && f.Severity == Severity.Review && f.Message.StartsWith(pair, StringComparison.Ordinal));
        }
    }

    /// <summary>In the midst of a distance of an even layout, where something crosses the blank; not in the first and the last, which stand alone.</summary>
    [Theory]
    [InlineData(0.4)]
    [InlineData(0.5)]
    [InlineData(0.6)]
    public void ARingTooManyInTheMidstIsDoubted(double share)
    {
        double[] even = [996.1, 885.5, 781.5, 674.0, 570.6, 470.9, 372.2, 276.7, 181.9, 91.8, 0]; // a rendered rod's
        Assert.Empty(SpacingDoubts.Of(even));
        for (int i = 1; i + 2 < even.Length; i++)
        {
            double[] split = [.. even.Append(even[i] + (share * (even[i + 1] - even[i]))).OrderDescending()];
            Assert.Contains(SpacingDoubts.Of(split), f => f.Severity == Severity.Review && f.Message.StartsWith($"Guide {i + 2} seems to split", StringComparison.Ordinal));
        }
    }

    /// <summary>A layout of equal distances with one ring left out: twice the distances beside it.</summary>
    [Fact]
    public void ARingTooFewIsDoubted()
    {
        double[] stations = [900, 800, 700, 500, 400, 300, 200, 100, 0];
        Assert.Contains("Guides 3 and 4 seem 200 mm apart", Assert.Single(SpacingDoubts.Of(stations)).Message, StringComparison.Ordinal);
    }

    private static double[] Stations(string name) => [.. Repository.Truth(name).Guides.Select(g => g.FromTipMm)];
}

using System.Text.RegularExpressions;
using DeflectScan.Scenes;

namespace DeflectScan.Rooms.Tests;

/// <summary>Middles of values and figures of the normal law stand in Numerics, once: elsewhere they are called by name.</summary>
public partial class OneMedianTests
{
    private static string Source => Path.Combine(Repository.Root, "src");

    [Fact]
    public void MiddlesAreTakenInNumerics() => Ratchet.Hold(Today.Medians, Files(TakesMiddleByHand));

    [Fact]
    public void FiguresOfTheNormalLawStandInNumerics() => Ratchet.Hold(Today.NormalFigures, Files(t => NormalFigure().IsMatch(t)));

    /// <summary>The rule itself: what was there before it, and what only looks like it.</summary>
    [Theory]
    [InlineData(true, "double[] sorted = [.. values.Order()];\nreturn sorted[sorted.Length / 2];")]
    [InlineData(true, "near.Sort();\nreturn near[near.Count / 2];")]
    [InlineData(true, "return views.Order().ElementAt(views.Count / 2);")]
    [InlineData(true, "Array.Sort(a);\nreturn (a[(a.Length / 2) - 1] + a[a.Length / 2]) / 2;")]
    [InlineData(false, "Vec2 bulge = Axis[Axis.Count / 2] - Axis[0];")]
    [InlineData(false, "return OrderStatistics.Middle(values);")]
    public void AMiddleTakenByHandIsSeen(bool seen, string code) => Assert.Equal(seen, TakesMiddleByHand(code));

    private static bool TakesMiddleByHand(string code) => MiddlePlace().IsMatch(code) && Sorting().IsMatch(code);

    private static IEnumerable<string> Files(Func<string, bool> breaks) =>
        from file in Directory.EnumerateFiles(Source, "*.cs", SearchOption.AllDirectories)
        let path = Path.GetRelativePath(Source, file).Replace('\\', '/')
        where !path.Contains("/obj/", StringComparison.Ordinal) && !path.Contains("/bin/", StringComparison.Ordinal) && !path.Contains("/Numerics/", StringComparison.Ordinal)
        where breaks(File.ReadAllText(file))
        select path;

    /// <summary>Half a count as a place: in brackets after what is counted, or in ElementAt.</summary>
    [GeneratedRegex(@"\b(?<of>\w+)\[\(?\k<of>\.(Length|Count) / 2\b|ElementAt\([\w.]+\.(Length|Count) / 2\)", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex MiddlePlace();

    [GeneratedRegex(@"\bSort\(|\.Order(By)?\(", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Sorting();

    /// <summary>The quartile, its inverse and the density at 0.</summary>
    [GeneratedRegex(@"\b(0\.6745|1\.4826|0\.39894\d*)f?\b", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex NormalFigure();
}

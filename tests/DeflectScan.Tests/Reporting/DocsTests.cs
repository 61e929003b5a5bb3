using System.Text.RegularExpressions;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Reporting;

public partial class DocsTests
{
    [Fact]
    public void EveryLinkBetweenThePagesLeadsSomewhere()
    {
        string folder = Path.Combine(Repository.Root, "docs");
        foreach (string page in Directory.GetFiles(folder, "*.md"))
        {
            foreach (Match link in Links().Matches(File.ReadAllText(page)))
            {
                string target = link.Groups[1].Value.Split('#')[0];
                if (target.Length > 0 && !target.Contains("://", StringComparison.Ordinal))
                    Assert.True(Path.Exists(Path.Combine(folder, target)), $"{Path.GetFileName(page)} links to {target}, which is not there");
            }
        }
    }

    [Fact]
    public void FiguresAreSmall()
    {
        string[] figures = Directory.GetFiles(Path.Combine(Repository.Root, "docs", "figures"));
        Assert.NotEmpty(figures);
        Assert.All(figures, f => Assert.True(new FileInfo(f).Length < 300_000, $"{f} is too large for a page"));
    }

    /// <summary>Whoever loads a rod after reading one page has read how far.</summary>
    [Theory]
    [InlineData("README.md")]
    [InlineData("docs/take-a-photo.md")]
    [InlineData("docs/bend.md")]
    public void TheAngleNotToGoBeyondIsNamed(string page)
    {
        string text = File.ReadAllText(Path.Combine(Repository.Root, page)).ReplaceLineEndings(" ");
        Assert.Contains("90 degrees", text, StringComparison.Ordinal);
        Assert.Contains("eye protection", text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void TheLineAnglesSignIsDescribed()
    {
        string text = File.ReadAllText(Path.Combine(Repository.Root, "docs/json.md"));
        Assert.Matches("line angle [(]signed: positive where the line turns towards the inside of the bend", text);
        foreach (string name in new[] { "casting-top", "clean-spinning" }) // the line follows the bend on either side of the blank
            Assert.All(TruthDocument.Of(name).Guides.Where(g => g.LineAngleDeg is not null), g => Assert.True(g.LineAngleDeg > 0));
    }

    /// <summary>A busy machine is no failure: the test run's own limit is an hour or more.</summary>
    [Fact]
    public void TheTestRunHasNoShortLimit()
    {
        Match limit = Limit().Match(File.ReadAllText(Path.Combine(Repository.Root, "tests/run.sh")));
        Assert.True(!limit.Success || int.Parse(limit.Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture) >= 3600, limit.Value);
    }

    [GeneratedRegex(@"timeout [^\n]*?(\d+) dotnet")]
    private static partial Regex Limit();

    [GeneratedRegex(@"\]\(([^)\s]+)\)")]
    private static partial Regex Links();
}

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

    [GeneratedRegex(@"\]\(([^)\s]+)\)")]
    private static partial Regex Links();
}

using System.Text.RegularExpressions;
using DeflectScan.Scenes;

namespace DeflectScan.Rooms.Tests;

/// <summary>
/// The rules of style that every file keeps (those that .editorconfig marks as warnings), read from the text: the compiler's own
/// analyzers of style take two fifths of the time of a build.
/// </summary>
public partial class StyleTests
{
    private static IEnumerable<(string File, string[] Lines)> Sources =>
        from folder in new[] { "src", "tests" }
        from file in Directory.EnumerateFiles(Path.Combine(Repository.Root, folder), "*.cs", SearchOption.AllDirectories)
        let path = Path.GetRelativePath(Repository.Root, file).Replace('\\', '/')
        where !path.Contains("/obj/", StringComparison.Ordinal) && !path.Contains("/bin/", StringComparison.Ordinal)
        select (path, File.ReadAllLines(file));

    [Fact]
    public void EveryFileKeepsTheRules()
    {
        Assert.True(Sources.Count() > 500);
        Ratchet.Hold([], Sources.SelectMany(s => Broken(s.Lines).Select(rule => $"{s.File}: {rule}")));
    }

    /// <summary>The ruler itself.</summary>
    [Theory]
    [InlineData("namespace A\n{", "a namespace for the whole file ends with a semicolon")]
    [InlineData("namespace A;\nusing B;", "usings stand before the namespace")]
    [InlineData("namespace A;\nsealed class C", "every type and member says who may use it")]
    [InlineData("namespace A;\npublic class C\n{\n    static int d;", "every type and member says who may use it")]
    [InlineData("using B;\nnamespace A;\ninternal sealed class C\n{\n    private const int D = 1;", null)]
    public void ABrokenRuleIsSeen(string text, string? rule) =>
        Assert.Equal(rule is null ? [] : [rule], Broken(text.Split('\n')));

    private static IEnumerable<string> Broken(string[] lines)
    {
        int head = Array.FindIndex(lines, l => l.StartsWith("namespace ", StringComparison.Ordinal));
        if (head < 0)
            yield break; // a program's top-level statements
        if (!lines[head].EndsWith(';'))
            yield return "a namespace for the whole file ends with a semicolon";
        if (lines.Skip(head).Any(l => l.StartsWith("using ", StringComparison.Ordinal)))
            yield return "usings stand before the namespace";
        if (lines.Any(l => Unsaid().IsMatch(l)))
            yield return "every type and member says who may use it";
    }

    [GeneratedRegex(@"^(?:(?:static|sealed|abstract|partial|readonly) )*(?:class|record|struct|enum|interface|delegate) |^    (?:static|readonly|const|async|sealed|abstract|virtual|override) ", RegexOptions.CultureInvariant, 1000)]
    private static partial Regex Unsaid();
}

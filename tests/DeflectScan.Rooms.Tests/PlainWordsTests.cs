using System.Text.RegularExpressions;
using Mono.Cecil;
using Mono.Cecil.Cil;

namespace DeflectScan.Rooms.Tests;

/// <summary>
/// The library's sentences are read on the page and on a student's phone, too: they say what a person does and name no option or command. What is typed
/// or pressed for it stands with each face, in one table.
/// </summary>
public partial class PlainWordsTests
{
    private const string PageTable = "PageWords";
    private const string CommandTable = "CommandWords";

    [Fact]
    public void NoTextBelowTheCommandLineNamesAnOption() =>
        Ratchet.Hold([], Texts(Symbols.Modules.Where(m => m.Assembly.Name.Name != "deflectscan")).Where(t => t.Type != PageTable && !t.Text.Contains('\n') && NamesCommand().IsMatch(t.Text)).Select(t => $"{t.Type}: {t.Text}"));

    /// <summary>The ruler itself.</summary>
    [Theory]
    [InlineData(true, "give one with --photo")]
    [InlineData(true, "(deflectscan card)")]
    [InlineData(false, "print a card -- or two")]
    [InlineData(false, "deflectscan.measurement/1")]
    public void AnOptionInATextIsSeen(bool seen, string text) => Assert.Equal(seen, NamesCommand().IsMatch(text));

    /// <summary>A face's table answers to words that are still said, each in a sentence of what lies below it.</summary>
    [Theory]
    [InlineData(PageTable)]
    [InlineData(CommandTable)]
    public void EveryWordOfAFaceIsSaidBelowIt(string table)
    {
        string[] own = [.. Texts(Symbols.Modules).Where(t => t.Type == table && t.Method == ".cctor").Select(t => t.Text)];
        string[] below = [.. Texts(Symbols.Modules.Where(m => m.Assembly.Name.Name != "deflectscan")).Where(t => t.Type != PageTable).Select(t => t.Text)];
        string[] asked = [.. own.Where((_, i) => i % 2 == 0)]; // what is asked and how it is done, in turn

        Assert.True(asked.Length > 3);
        Assert.Equal([], asked.Where(a => !below.Any(t => t.Contains(a, StringComparison.Ordinal))));
    }

    private static IEnumerable<(string Type, string Method, string Text)> Texts(IEnumerable<ModuleDefinition> modules) =>
        from type in modules.SelectMany(m => m.GetTypes())
        from method in type.Methods
        where method.HasBody
        from instruction in method.Body.Instructions
        where instruction.OpCode == OpCodes.Ldstr
        select (type.Name, method.Name, (string)instruction.Operand);

    [GeneratedRegex(@"(?<!\S)\(?--[a-z]|\bdeflectscan [a-z]", RegexOptions.CultureInvariant, 1000)]
    private static partial Regex NamesCommand();
}

using Spectre.Console;

namespace DeflectScan.Cli.Display;

/// <summary>The title of a table and what its columns mean: one paragraph, so that it is broken between words where the terminal is narrow.</summary>
internal static class Titled
{
    /// <summary>A blank line, the title in bold, the explanation in brackets, if any.</summary>
    public static Paragraph Of(string title, string explanation) =>
        new Paragraph().Append("\n" + title, new Style(decoration: Decoration.Bold)).Append(explanation.Length > 0 ? $" ({explanation})\n" : "\n");
}

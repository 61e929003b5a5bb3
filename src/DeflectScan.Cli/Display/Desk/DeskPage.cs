using DeflectScan.Cli.Running;
using DeflectScan.Geometry;
using Spectre.Console;

namespace DeflectScan.Cli.Display.Desk;

/// <summary>Headings, tables and lines of the desk's commands on standard output.</summary>
internal sealed class DeskPage(Terminal terminal, LengthUnit unit = LengthUnit.Millimetres)
{
    private readonly IAnsiConsole _console = terminal.Tables();

    public TableBorder Border => terminal.OutIsTerminal ? TableBorder.Simple : TableBorder.None;

    public void Title(string text) => _console.Write(new Text(SafeText.Of(text) + "\n", new Style(decoration: Decoration.Bold)));

    public void Heading(string title, string explanation = "") => _console.Write(Titled.Of(title, explanation));

    public void Write(Table table) => _console.Write(table);

    public void Line(string text) => _console.Write(new Text(SafeText.Of(text) + "\n"));

    /// <summary>A sentence of the library's, its lengths in the unit that is shown.</summary>
    public void Sentence(string text) => Line(CommandWords.Of(text, unit));

    public void Strong(string text) => _console.Write(new Text(SafeText.Of(text) + "\n", new Style(decoration: Decoration.Bold)));

    /// <summary>What to say to anyone who is about to load a blank, once and before the figures.</summary>
    public void Cautions(IReadOnlyList<string> cautions)
    {
        foreach (string caution in cautions)
            Sentence("  " + caution);
        Line("  Local rules and trained practice come first.");
    }

    public void Notes(IReadOnlyList<string> notes)
    {
        if (notes.Count == 0)
            return;
        Heading("What to know");
        foreach (string note in notes)
            Sentence("  " + note);
    }
}

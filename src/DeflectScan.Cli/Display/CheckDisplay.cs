using DeflectScan.Checking;
using DeflectScan.Cli.Running;
using Spectre.Console;

namespace DeflectScan.Cli.Display;

/// <summary>The look at a photo as a to-do list for the bench.</summary>
internal sealed class CheckDisplay(Terminal terminal)
{
    private readonly IAnsiConsole _console = terminal.Tables();

    public void Show(CheckReport report, string photoName)
    {
        (string word, Color colour) = report.Verdict switch
        {
            CheckVerdict.Good => ("this photo will do", Color.Green),
            CheckVerdict.Doubtful => ("usable, but a better one would be surer", Color.Yellow),
            _ => ("this photo will not do", Color.Red),
        };
        Write($"{photoName}: ", new Style(decoration: Decoration.Bold));
        Write(word + "\n", new Style(colour, decoration: Decoration.Bold));
        CheckItem[] toDo = [.. report.ToDo];
        if (toDo.Length > 0)
            Write(report.Verdict == CheckVerdict.Useless ? "\nDo this, then take the photo again\n" : "\nWhat would make it surer\n", new Style(decoration: Decoration.Bold));
        for (int i = 0; i < toDo.Length; i++)
            Write($"  {i + 1}. {CommandWords.Of(toDo[i].Do)} ({toDo[i].Seen.TrimEnd('.')}.)\n", Style.Plain);
        CheckItem[] good = [.. report.Items.Where(i => i.Verdict == CheckVerdict.Good)];
        if (good.Length > 0)
            Write("\nAll right\n", new Style(decoration: Decoration.Bold));
        foreach (CheckItem item in good)
            Write($"  {item.Name}: {item.Seen}\n", Style.Plain);
        Write("\nKeep the tip at 90 degrees or less to the butt, wear eye protection, and stay out of the cord's line while the rod is loaded.\n", Style.Plain);
    }

    private void Write(string text, Style style) => _console.Write(new Text(string.Join('\n', text.Split('\n').Select(SafeText.Of)), style));
}

using System.Text;
using DeflectScan.Writing;
using Spectre.Console;

namespace DeflectScan.Cli.Running;

/// <summary>Where the program writes, and what may be written there.</summary>
/// <param name="Out">Standard output: results alone.</param>
/// <param name="Error">Standard error: progress and messages.</param>
/// <param name="OutIsTerminal">A person reads standard output as it comes.</param>
/// <param name="ErrorIsTerminal">A person reads standard error as it comes.</param>
/// <param name="Colour">Colours may be used on standard output (a terminal, and NO_COLOR is not set).</param>
/// <param name="Width">Columns of the terminal.</param>
internal sealed record Terminal(TextWriter Out, TextWriter Error, bool OutIsTerminal, bool ErrorIsTerminal, bool Colour, int Width)
{
    /// <summary>What the user chose once for all runs.</summary>
    public Settings Settings { get; init; } = Settings.Default;

    /// <summary>Where that is kept; null: nowhere.</summary>
    public string? SettingsFile { get; init; }

    /// <summary>Where a person answers; null: nobody is there to be asked.</summary>
    public TextReader? In { get; init; }

    /// <summary>Columns when nobody watches: wide enough that no row is broken.</summary>
    public const int PipedWidth = 200;

    /// <summary>The process's own terminal or pipes, in UTF-8 without a byte order mark.</summary>
    public static Terminal OfProcess()
    {
        bool outIsTerminal = !Console.IsOutputRedirected;
        bool quiet = !string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR")) || Environment.GetEnvironmentVariable("TERM") == "dumb";
        int width = outIsTerminal && Console.WindowWidth > 0 ? Console.WindowWidth : PipedWidth;
        StreamWriter output = new(Console.OpenStandardOutput(), new UTF8Encoding(false)) { AutoFlush = true, NewLine = "\n" };
        StreamWriter error = new(Console.OpenStandardError(), new UTF8Encoding(false)) { AutoFlush = true, NewLine = "\n" };
        return new Terminal(output, error, outIsTerminal, !Console.IsErrorRedirected, outIsTerminal && !quiet, width)
        {
            Settings = Settings.Read(UserFolder.Settings), SettingsFile = UserFolder.Settings, In = Console.IsInputRedirected ? null : Console.In,
        };
    }

    /// <summary>A console for tables: plain text where colours may not be used.</summary>
    public IAnsiConsole Tables()
    {
        IAnsiConsole console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = Colour ? AnsiSupport.Yes : AnsiSupport.No,
            ColorSystem = Colour ? ColorSystemSupport.Standard : ColorSystemSupport.NoColors,
            Interactive = InteractionSupport.No,
            Out = new AnsiConsoleOutput(Out),
        });
        console.Profile.Width = Width;
        console.Profile.Capabilities.Unicode = true;
        return console;
    }

    /// <summary>One line on standard error, made safe to show.</summary>
    public void Say(string message) => Error.WriteLine(SafeText.Of(CommandWords.Of(message)));
}

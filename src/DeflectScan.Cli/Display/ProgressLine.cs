using DeflectScan.Cli.Running;

namespace DeflectScan.Cli.Display;

/// <summary>What the program is busy with, on standard error: one line that is written over on a terminal, a line each elsewhere.</summary>
internal sealed class ProgressLine(Terminal terminal) : IProgress<string>
{
    private const string ClearLine = "\r\u001b[K";
    private bool _shown;

    public void Report(string value)
    {
        if (terminal.ErrorIsTerminal)
            terminal.Error.Write($"{ClearLine}{SafeText.Of(value)} …");
        else
            terminal.Say(value);
        _shown = true;
    }

    /// <summary>Takes the line away before anything else is written.</summary>
    public void Done()
    {
        if (_shown && terminal.ErrorIsTerminal)
            terminal.Error.Write(ClearLine);
        _shown = false;
    }
}

using System.CommandLine;
using System.CommandLine.Parsing;
using DeflectScan.Cli.Running;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Options;

/// <summary>
/// What a command may write: its output options with what they hold, and --force. Everything else on the command line that names a file is an input.
/// </summary>
internal sealed class Outputs
{
    private readonly Dictionary<Symbol, (IReadOnlyList<OutputFormat> Formats, bool Updates)> _outputs = [];
    private readonly Option<bool> _force = new("--force") { Description = "Replace files that are there, even where they hold something else or were read." };

    /// <summary>Adds --force to the command.</summary>
    public Outputs(Command command) => command.Add(_force);

    public bool Force(ParseResult parsed) => parsed.GetValue(_force);

    /// <summary>Says that an option or argument names a file that is written; it is checked before any work is done.</summary>
    /// <param name="symbol">The option or argument.</param>
    /// <param name="formats">What the file holds; several where its ending decides; none for a folder.</param>
    public Outputs With(Symbol symbol, params OutputFormat[] formats)
    {
        _outputs[symbol] = (formats, false);
        return this;
    }

    /// <summary>The same for a file that is read, grows and is written again.</summary>
    public Outputs WithUpdated(Symbol symbol, params OutputFormat[] formats)
    {
        _outputs[symbol] = (formats, true);
        return this;
    }

    /// <summary>The files that this run may write.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="alsoRead">Files that are read without being named there.</param>
    /// <exception cref="OutputRefusedException">One of those named may not be written.</exception>
    public OutputFiles Of(ParseResult parsed, params IEnumerable<string?> alsoRead)
    {
        List<string> inputs = [.. alsoRead.OfType<string>()];
        List<(string Path, Symbol Symbol)> written = [];
        foreach (SymbolResult result in parsed.CommandResult.Children)
        {
            (Symbol? symbol, IReadOnlyList<Token> tokens) = result switch
            {
                OptionResult o => (o.Option, o.Tokens),
                ArgumentResult a => (a.Argument, a.Tokens),
                _ => ((Symbol?)null, (IReadOnlyList<Token>)[]),
            };
            foreach (Token token in tokens)
            {
                if (symbol is not null && _outputs.ContainsKey(symbol))
                    written.Add((token.Value, symbol));
                else
                    inputs.Add(token.Value);
            }
        }

        OutputFiles files = new(inputs, Force(parsed));
        foreach ((string path, Symbol symbol) in written)
        {
            (IReadOnlyList<OutputFormat> formats, bool updates) = _outputs[symbol];
            if (formats.Count > 0)
                files.Expect(path, formats, updates);
        }

        return files;
    }

    /// <summary>Writes a file and says where it lies.</summary>
    public static void Write(Terminal terminal, OutputFiles files, string path, byte[] bytes)
    {
        files.Write(path, bytes);
        terminal.Say($"Written to {Path.GetFullPath(path)}");
    }

    /// <summary>Writes files into a folder, which is made where it is not there.</summary>
    /// <exception cref="UsageException">It cannot be made; <paramref name="option"/> gives another one.</exception>
    public static void WriteAll(OutputFiles output, string folder, IReadOnlyList<(string Name, byte[] Bytes)> files, string option)
    {
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new UsageException($"The output folder cannot be made: give another one with {option}.");
        }

        foreach ((string name, byte[] bytes) in files)
            output.Write(Path.Combine(folder, name), bytes);
    }
}

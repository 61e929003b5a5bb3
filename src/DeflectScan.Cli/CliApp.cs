using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;
using System.CommandLine.Parsing;
using System.Runtime.InteropServices;
using DeflectScan.Cli.Commands;
using DeflectScan.Cli.Commands.Bending;
using DeflectScan.Cli.Commands.Desk;
using DeflectScan.Cli.Commands.Records;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Records.Model;
using DeflectScan.Writing;

namespace DeflectScan.Cli;

/// <summary>The command line: parses, calls, and turns what happened into an exit code.</summary>
internal static class CliApp
{
    /// <summary>How long a cancelled command may take to put its things away.</summary>
    private static readonly TimeSpan TidyTime = TimeSpan.FromSeconds(2);

    public static int Run(IReadOnlyList<string> args, Engine engine, Terminal terminal)
    {
        using CancellationTokenSource cancel = new();
        using PosixSignalRegistration interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, signal =>
        {
            signal.Cancel = true;
            cancel.Cancel();
        });
        return Run(args, engine, terminal, cancel.Token);
    }

    public static int Run(IReadOnlyList<string> args, Engine engine, Terminal terminal, CancellationToken cancel)
    {
        ParseResult parsed = Root(engine, terminal).Parse(args, new ParserConfiguration { ResponseFileTokenReplacer = null });
        if (parsed.Action is ParseErrorAction)
        {
            terminal.Say($"{Problem(parsed)} See deflectscan {Path(parsed)}--help.");
            return ExitCode.WrongUsage;
        }

        InvocationConfiguration invocation = new()
        {
            Output = terminal.Out, Error = terminal.Error, EnableDefaultExceptionHandler = false, ProcessTerminationTimeout = null,
        };
        Task<int>? work = null;
        try
        {
            work = parsed.InvokeAsync(invocation, cancel);
            work.Wait(cancel);
            return work.Result;
        }
        catch (Exception e) when (Cause(e) is OperationCanceledException)
        {
            Task.WaitAny([work ?? Task.CompletedTask], TidyTime);
            terminal.Say("Cancelled.");
            return ExitCode.Cancelled;
        }
        catch (Exception e) when (Cause(e) is InputException)
        {
            terminal.Say(Cause(e).Message);
            return ExitCode.WrongUsage;
        }
        catch (Exception e) when (Cause(e) is RefusedException refused)
        {
            foreach (Finding finding in refused.Refusals)
                terminal.Say(finding.Message);
            return ExitCode.Refused;
        }
        catch (Exception e) when (Cause(e) is ArchiveException)
        {
            terminal.Say(Cause(e).Message);
            return ExitCode.For(((ArchiveException)Cause(e)).Problem);
        }
        catch (Exception e)
        {
            terminal.Say(NativeLibraries.Explain(e) ?? $"Something unexpected went wrong: {Cause(e).GetType().Name}: {Cause(e).Message}");
            return ExitCode.Unexpected;
        }
    }

    private static Exception Cause(Exception e) => e is AggregateException { InnerExceptions: [Exception only] } ? Cause(only) : e;

    private static RootCommand Root(Engine engine, Terminal terminal)
    {
        RootCommand root = new("Measures a photo of a fishing rod in a static deflection test: the gap between line and blank at every guide pair.")
        {
            MeasureCommand.Make(engine, terminal),
            ClassCommand.Make(engine, terminal),
            ClassesCommand.Make(terminal),
            CheckCommand.Make(engine, terminal),
            CardCommand.Make(engine, terminal),
            LensCommand.Make(engine, terminal),
            DemoCommand.Make(engine, terminal),
            SettingsCommand.Make(terminal),
            CompletionCommand.Make(terminal),
            RecordsCommand.Make(engine, terminal),
            ProofCommand.Make(terminal),
            ServeCommand.Make(terminal),
        };
        foreach (Command command in DeskCommands.All(terminal).Concat(BendCommands.All(terminal)))
            root.Add(command);
        ExitCodeHelp.State(root, 0, 1, 2, 3, 4, 10, 11, 12, 130);
        foreach (HelpOption help in root.Options.OfType<HelpOption>())
            help.Action = new ExitCodeHelp((HelpAction)help.Action!);
        return root;
    }

    /// <summary>The first thing wrong with the command line, as one sentence on one line.</summary>
    private static string Problem(ParseResult parsed)
    {
        if (parsed.CommandResult.Command is RootCommand root)
        {
            string start = parsed.UnmatchedTokens is [string word, ..] ? $"There is no command '{word}'" : "Give a command";
            return $"{start}: it is one of {string.Join(", ", root.Subcommands.Select(c => c.Name))}.";
        }

        if (parsed.Tokens.FirstOrDefault(t => t.Type == TokenType.Argument && t.Value.StartsWith("--", StringComparison.Ordinal)) is { } stray)
            return $"There is no option '{stray.Value}'.";
        if (parsed.CommandResult.Command.Name == "note" && parsed.UnmatchedTokens.Count > 0)
            return $"Put the text in quotes, as in \"first test {parsed.UnmatchedTokens[0]}\": more than one word stands there without them.";
        string message = string.Join(' ', parsed.Errors[0].Message.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        return message.EndsWith('.') ? message : message + ".";
    }

    /// <summary>The command's name with those above it, as "records add ".</summary>
    private static string Path(ParseResult parsed)
    {
        string path = "";
        for (SymbolResult? at = parsed.CommandResult; at is CommandResult { Command: not RootCommand } command; at = at.Parent)
            path = command.Command.Name + " " + path;
        return path;
    }
}

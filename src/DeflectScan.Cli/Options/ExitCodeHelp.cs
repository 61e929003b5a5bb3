using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;
using System.Runtime.CompilerServices;
using DeflectScan.Cli.Running;

namespace DeflectScan.Cli.Options;

/// <summary>Adds a command's own exit codes to its help.</summary>
internal sealed class ExitCodeHelp(HelpAction help) : SynchronousCommandLineAction
{
    private static readonly ConditionalWeakTable<Command, int[]> Codes = [];

    public override bool ClearsParseErrors => true;

    /// <summary>States which exit codes <paramref name="command"/> can end with.</summary>
    public static void State(Command command, params int[] codes) => Codes.AddOrUpdate(command, codes);

    public override int Invoke(ParseResult parseResult)
    {
        int result = help.Invoke(parseResult);
        if (!Codes.TryGetValue(parseResult.CommandResult.Command, out int[]? codes))
            return result;
        TextWriter output = parseResult.InvocationConfiguration.Output;
        output.WriteLine("Exit codes:");
        foreach (int code in codes)
            output.WriteLine($"  {code,-4}{ExitCode.Describe(code)}");
        output.WriteLine();
        return result;
    }
}

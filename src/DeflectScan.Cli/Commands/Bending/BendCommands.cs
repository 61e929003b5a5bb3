using System.CommandLine;
using DeflectScan.Cli.Running;

namespace DeflectScan.Cli.Commands.Bending;

/// <summary>Commands on the blank itself.</summary>
internal static class BendCommands
{
    public static IReadOnlyList<Command> All(Terminal terminal) => [BendCommand.Make(terminal), BlankCommand.Make(terminal)];
}

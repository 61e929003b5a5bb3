using System.CommandLine;
using DeflectScan.Cli.Running;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary>The layout desk's commands.</summary>
internal static class DeskCommands
{
    public static IReadOnlyList<Command> All(Terminal terminal) => 
    [
        WhatIfCommand.Make(terminal), SpacingCommand.Make(terminal), RingsCommand.Make(terminal),
        PlanCommand.Make(terminal), TestCastCommand.Make(terminal), CarryCommand.Make(terminal), PrintCommands.Sheet(terminal), PrintCommands.Tape(terminal),
    ];
}

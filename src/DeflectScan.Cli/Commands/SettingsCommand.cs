using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Geometry;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands;

/// <summary><c>deflectscan settings</c>: what is chosen once for all runs.</summary>
internal static class SettingsCommand
{
    public static Command Make(Terminal terminal)
    {
        Argument<string?> unit = new("UNIT") { HelpName = "mm|in", Description = "The unit of lengths: shown first, and meant by numbers without one.", Arity = ArgumentArity.ZeroOrOne };
        unit.AcceptOnlyFromAmong("mm", "in");
        Command units = new("units", "Choose the unit of lengths for all commands, or show which it is.") { unit };
        Command command = new("settings", "Show or choose what holds for all commands.") { units };
        ExitCodeHelp.State(units, 0, 1, 2);
        ExitCodeHelp.State(command, 0, 1, 2);
        units.SetAction(parsed =>
        {
            if (parsed.GetValue(unit) is not { } chosen)
                return Show(terminal, terminal.Settings);
            Settings settings = terminal.Settings with { Units = chosen == "in" ? LengthUnit.Inches : LengthUnit.Millimetres };
            settings.Write(terminal.SettingsFile ?? throw new UsageException("There is no configuration folder to keep it in: set XDG_CONFIG_HOME, or HOME."));
            return Show(terminal, settings);
        });
        command.SetAction(_ => Show(terminal, terminal.Settings));
        return command;
    }

    private static int Show(Terminal terminal, Settings settings)
    {
        terminal.Out.WriteLine($"units {UnitsInSentences.Name(settings.Units)}");
        return ExitCode.Ok;
    }
}

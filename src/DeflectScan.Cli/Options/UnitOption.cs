using System.CommandLine;
using System.CommandLine.Parsing;
using DeflectScan.Cli.Running;
using DeflectScan.Geometry;

namespace DeflectScan.Cli.Options;

/// <summary>The unit that lengths are shown in first and that bare numbers are in: the same option for all commands, its default a lasting setting.</summary>
internal static class UnitOption
{
    private const string Name = "--units";

    public static Option<string> Make(Terminal terminal)
    {
        Option<string> units = new(Name)
        {
            HelpName = "mm|in", Description = "Unit of lengths: shown first, and meant by numbers without one. A lasting choice: deflectscan settings units in.",
            DefaultValueFactory = _ => UnitsInSentences.Name(terminal.Settings.Units),
        };
        units.AcceptOnlyFromAmong("mm", "in");
        return units;
    }

    public static LengthUnit Of(ParseResult parsed, Option<string> units) => parsed.GetValue(units) == "in" ? LengthUnit.Inches : LengthUnit.Millimetres;

    /// <summary>The unit that stands on the same command line as an argument that is being read; millimetres where the command has no such option.</summary>
    public static LengthUnit Beside(SymbolResult result)
    {
        for (SymbolResult? at = result; at is not null; at = at.Parent)
        {
            if (at is CommandResult { Command: { } command } && command.Options.OfType<Option<string>>().FirstOrDefault(o => o.Name == Name) is { } units)
            {
                // While arguments are read, an option that was not given has no value yet, not even its default.
                string? unit = result.GetResult(units) is { Implicit: false } ? result.GetValue(units) : (string?)units.GetDefaultValue();
                return unit == "in" ? LengthUnit.Inches : LengthUnit.Millimetres;
            }
        }

        return LengthUnit.Millimetres;
    }
}

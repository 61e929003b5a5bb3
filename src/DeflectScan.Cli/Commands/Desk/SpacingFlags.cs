using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Desk;
using DeflectScan.Geometry;
using DeflectScan.Layout.Spacing;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary>What the best stations are asked for with.</summary>
internal sealed class SpacingFlags
{
    private readonly Option<int?> _guides = new("--guides") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Place this many guides in all, the tip-top not counted." };
    private readonly Option<double?> _bow = DeskInput.Length("--largest-bow", "LENGTH", "Place the fewest guides that keep every running pair's bow within this.");
    private readonly Option<double?> _gap = DeskInput.Length("--largest-gap", "LENGTH", "Place the fewest guides that keep every running pair's gap within this.");
    private readonly Option<string> _level = new("--level") { HelpName = "bow|gap", Description = "What is made small.", DefaultValueFactory = _ => "bow" };
    private readonly Option<int?> _hold = new("--hold") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Guides, from the reel, that stay. [default: 3 inside, 1 outside]" };
    private readonly Option<double?> _least = DeskInput.Length("--least-spacing", "LENGTH", "No two guides nearer to each other. [default: 40mm]");
    private readonly Option<bool> _grow = new("--may-grow") { Description = "Let spacings grow toward the tip." };
    private readonly Option<double?> _round = DeskInput.Length("--round", "LENGTH", "Stations are whole multiples of this from the tip: 1mm, or 1/16in. [default: 1mm; 1/16in with --units in]");
    private readonly Option<string[]> _off = new("--keep-off") { HelpName = "FROM..TO", Description = "Stations from the tip where no guide can stand, a ferrule: 610mm..650mm.", Arity = ArgumentArity.OneOrMore };
    private readonly Option<double?> _ring = new("--ring") { CustomParser = NumberText.Decimal, HelpName = "SIZE", Description = "Ring size of the running guides in the guide table: its height and mass." };
    private readonly Option<int?> _curve = new("--curve-to") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Running guides that the curve goes as far as. [default: 4 more than now]" };

    public SpacingFlags(Command command)
    {
        _level.AcceptOnlyFromAmong("bow", "gap");
        foreach (Option option in (Option[])[_guides, _bow, _gap, _level, _hold, _least, _grow, _round, _off, _ring, _curve])
            command.Add(option);
    }

    /// <exception cref="UsageException">A zone to keep off that is none.</exception>
    public SpacingRequest Read(ParseResult parsed, LengthUnit unit)
    {
        SpacingOptions usual = new();
        return new SpacingRequest
        {
            Guides = parsed.GetValue(_guides),
            LargestBowMm = parsed.GetValue(_bow),
            LargestGapMm = parsed.GetValue(_gap),
            Hold = parsed.GetValue(_hold),
            RingSize = parsed.GetValue(_ring),
            CurveTo = parsed.GetValue(_curve),
            Options = new SpacingOptions
            {
                Goal = parsed.GetValue(_level) == "gap" ? SpacingGoal.Gap : SpacingGoal.Bow,
                LeastSpacingMm = parsed.GetValue(_least) ?? usual.LeastSpacingMm,
                NotGrowingTowardTip = !parsed.GetValue(_grow),
                GridMm = parsed.GetValue(_round) ?? (unit == LengthUnit.Inches ? UnitsText.MmPerInch / 16 : usual.GridMm),
                Forbidden = [.. (parsed.GetValue(_off) ?? []).Select(t => Zone(t, unit))],
            },
        };
    }

    private static ForbiddenZone Zone(string text, LengthUnit bare)
    {
        int dots = text.IndexOf("..", StringComparison.Ordinal);
        return dots > 0 && LengthText.TryMm(text[..dots], bare, out double from) && LengthText.TryMm(text[(dots + 2)..], bare, out double to) && from < to
            ? new ForbiddenZone(from, to)
            : throw new UsageException($"'{text}' is no zone: write where it begins and ends, from the tip, as in 610mm..650mm.");
    }
}

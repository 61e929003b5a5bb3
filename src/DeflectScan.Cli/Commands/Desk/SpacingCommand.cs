using System.CommandLine;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Display.Desk;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Desk;
using DeflectScan.Geometry;
using DeflectScan.Layout.Spacing;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Reporting.Plots;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary><c>deflectscan spacing</c>: the exact best running-guide stations on the measured bend.</summary>
internal static class SpacingCommand
{
    public static Command Make(Terminal terminal)
    {
        Option<int?> guides = new("--guides") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Place this many guides in all, the tip-top not counted." };
        Option<double?> bow = DeskInput.Length("--largest-bow", "LENGTH", "Place the fewest guides that keep every running pair's bow within this.");
        Option<double?> gap = DeskInput.Length("--largest-gap", "LENGTH", "Place the fewest guides that keep every running pair's gap within this.");
        Option<string> level = new("--level") { HelpName = "bow|gap", Description = "What is made small.", DefaultValueFactory = _ => "bow" };
        level.AcceptOnlyFromAmong("bow", "gap");
        Option<int?> hold = new("--hold") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Guides, from the reel, that stay. [default: 3 inside, 1 outside]" };
        Option<double?> least = DeskInput.Length("--least-spacing", "LENGTH", "No two guides nearer to each other. [default: 40mm]");
        Option<bool> grow = new("--may-grow") { Description = "Let spacings grow toward the tip." };
        Option<double?> round = DeskInput.Length("--round", "LENGTH", "Stations are whole multiples of this from the tip: 1mm, or 1/16in. [default: 1mm; 1/16in with --units in]");
        Option<string[]> off = new("--keep-off") { HelpName = "FROM..TO", Description = "Stations from the tip where no guide can stand, a ferrule: 610mm..650mm.", Arity = ArgumentArity.OneOrMore };
        Option<double?> ring = new("--ring") { CustomParser = NumberText.Decimal, HelpName = "SIZE", Description = "Ring size of the running guides in the guide table: its height and mass." };
        Option<int?> curve = new("--curve-to") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Running guides that the curve goes as far as. [default: 4 more than now]" };
        Option<string?> plot = new("--plot") { HelpName = "FILE", Description = "Draw the largest bow against the number of guides: .png, .svg or .pdf." };
        Option<string?> save = new("--save") { HelpName = "FILE.json", Description = DeskOutput.SaveHelp };
        Command command = new("spacing", "Place running guides best on a measured bend, and show what each further guide brings.")
        {
            guides, bow, gap, level, hold, least, grow, round, off, ring, curve, plot, save,
        };
        DeskInput input = new(command, terminal);
        Outputs outputs = new Outputs(command).With(save, OutputFormat.Json).With(plot, OutputFormat.Png, OutputFormat.Svg, OutputFormat.Pdf);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                OutputFiles files = outputs.Of(parsed);
                if (input.Rod(parsed, terminal) is not { } rod)
                    return ExitCode.Refused;
                SpacingOptions usual = new();
                SpacingRequest request = new()
                {
                    Guides = parsed.GetValue(guides),
                    LargestBowMm = parsed.GetValue(bow),
                    LargestGapMm = parsed.GetValue(gap),
                    Hold = parsed.GetValue(hold),
                    RingSize = parsed.GetValue(ring),
                    CurveTo = parsed.GetValue(curve),
                    Options = new SpacingOptions
                    {
                        Goal = parsed.GetValue(level) == "gap" ? SpacingGoal.Gap : SpacingGoal.Bow,
                        LeastSpacingMm = parsed.GetValue(least) ?? usual.LeastSpacingMm,
                        NotGrowingTowardTip = !parsed.GetValue(grow),
                        GridMm = parsed.GetValue(round) ?? (input.Unit(parsed) == LengthUnit.Inches ? UnitsText.MmPerInch / 16 : usual.GridMm),
                        Forbidden = [.. (parsed.GetValue(off) ?? []).Select(t => Zone(t, input.Unit(parsed)))],
                    },
                };
                PlotFormat? format = parsed.GetValue(plot) is { } file ? Format(file) : null;
                if (!SpacingReport.TryMake(rod, request, input.Table(parsed), out SpacingReport? report, out string? problem))
                    throw new UsageException(problem);
                string name = input.Name(parsed, rod);
                if (format is { } kind)
                    DeskOutput.Write(terminal, files, parsed.GetValue(plot)!, BowCurvePlot.Draw(report, name, kind, input.Unit(parsed)));
                if (parsed.GetValue(save) is { } kept)
                    DeskOutput.Save(terminal, files, kept, DeskSheet.Of(rod, report.Layout ?? throw new UsageException("There is no layout to keep: give --guides, --largest-bow or --largest-gap."), name, report.Held));
                if (input.Json(parsed))
                    terminal.Out.Write(DeskJson.Write(report));
                else
                    new SpacingDisplay(terminal, new Figures(input.Unit(parsed))).Show(report, name);
                return ExitCode.For(rod.Measurement.Status);
            },
            cancel));
        return command;
    }

    private static PlotFormat Format(string file) => Path.GetExtension(file).ToLowerInvariant() switch
    {
        ".png" => PlotFormat.Png,
        ".svg" => PlotFormat.Svg,
        ".pdf" => PlotFormat.Pdf,
        _ => throw new UsageException("The plot's file must end in .png, .svg or .pdf."),
    };

    private static ForbiddenZone Zone(string text, LengthUnit bare)
    {
        int dots = text.IndexOf("..", StringComparison.Ordinal);
        return dots > 0 && LengthText.TryMm(text[..dots], bare, out double from) && LengthText.TryMm(text[(dots + 2)..], bare, out double to) && from < to
            ? new ForbiddenZone(from, to)
            : throw new UsageException($"'{text}' is no zone: write where it begins and ends, from the tip, as in 610mm..650mm.");
    }
}

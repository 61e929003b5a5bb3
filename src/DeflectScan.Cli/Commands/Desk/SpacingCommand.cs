using System.CommandLine;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Display.Desk;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Desk;
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
        Option<string?> plot = new("--plot") { HelpName = "FILE", Description = "Draw the largest bow against the number of guides: .png, .svg or .pdf." };
        Option<string?> save = new("--save") { HelpName = "FILE.json", Description = DeskOutput.SaveHelp };
        Command command = new("spacing", "Place running guides best on a measured bend, and show what each further guide brings.");
        SpacingFlags flags = new(command);
        command.Add(plot);
        command.Add(save);
        DeskInput input = new(command, terminal);
        Outputs outputs = new Outputs(command).With(save, OutputFormat.Json).With(plot, OutputFormat.Png, OutputFormat.Svg, OutputFormat.Pdf);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                OutputFiles files = outputs.Of(parsed);
                MeasuredLayout rod = input.Rod(parsed);
                SpacingRequest request = flags.Read(parsed, input.Unit(parsed));
                PlotFormat? format = parsed.GetValue(plot) is { } file ? DeskOutput.PlotFormat(file) : null;
                SpacingReport report = UsageException.Unless(SpacingReport.Of(rod, request, input.Table(parsed)));
                string name = input.Name(parsed, rod);
                if (format is { } kind)
                    Outputs.Write(terminal, files, parsed.GetValue(plot)!, BowCurvePlot.Draw(report, name, kind, input.Unit(parsed)));
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
}

using System.CommandLine;
using DeflectScan.Bending;
using DeflectScan.Cli.Commands.Desk;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Display.Bending;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Plots;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Writing;
using ForceText = DeflectScan.Geometry.ForceText;

namespace DeflectScan.Cli.Commands.Bending;

/// <summary><c>deflectscan bend</c>: the measured blank at loads that were not photographed.</summary>
internal static class BendCommand
{
    public static Command Make(Terminal terminal)
    {
        Option<string?> at = new("--at") { HelpName = "0.5x,1x,…", Description = "Loads over the photographed one. [default: 0.5x,1x,1.5x,2x, as far as the tip turns by 90 degrees]" };
        Option<string?> turn = new("--tip-turn") { HelpName = "30,60,…", Description = "Bends by how far the tip turns, in degrees." };
        Option<int?> hold = new("--hold") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Guides, from the reel, that the best layouts leave. [default: 3 inside, 1 outside]" };
        Option<string?> line = new("--line-pull") { HelpName = "10N|1x", Description = "A pull through the line over the rings, as a fish pulls: ring loads, and how the bend differs." };
        Option<string?> picture = new("--picture") { HelpName = "FILE", Description = "Draw the family of bends: .png, .svg or .pdf." };
        Option<string?> save = new("--save") { HelpName = "FILE.json", Description = "Keep the layout that is best over these bends in a file that sheet and tape print from." };
        Command command = new("bend", "Bend a measured blank to other loads: shape, gaps and bows there, and the layout that is best over the range.") { at, turn, hold, line, picture, save };
        BlankInput blank = new(command);
        DeskInput input = new(command, terminal);
        Outputs outputs = new Outputs(command).With(save, OutputFormat.Json).With(picture, OutputFormat.Png, OutputFormat.Svg, OutputFormat.Pdf);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                OutputFiles files = outputs.Of(parsed);
                BendRequest request = AskedBends.Read(parsed.GetValue(at), parsed.GetValue(turn)) with { HoldGuides = parsed.GetValue(hold) };
                if (parsed.GetValue(line) is { } pull)
                    request = WithLine(request, pull);
                PlotFormat? format = parsed.GetValue(picture) is { } file ? DeskOutput.PlotFormat(file) : null;
                MeasuredLayout rod = input.Rod(parsed);
                Outcome<StiffnessEstimate> estimate = blank.Read(parsed, rod.Measurement, input).Estimate();
                cancel.ThrowIfCancellationRequested();
                Outcome<BendReport> outcome = BendStudy.Of(rod, estimate, request);
                BendReport report = RefusedException.Unless(outcome);
                if (format is { } kind)
                    Outputs.Write(terminal, files, parsed.GetValue(picture)!, BendFamilyPlot.Draw(report, input.Name(parsed, rod), kind, input.Unit(parsed)));
                if (parsed.GetValue(save) is { } kept)
                {
                    RangeLayout best = report.BestOverRange ?? throw new UsageException("There is no layout to keep: none fits over these bends.");
                    DeskOutput.Save(terminal, files, kept, DeskSheet.Of(rod, best, input.Name(parsed, rod)));
                }

                if (input.Json(parsed))
                    terminal.Out.Write(DeskJson.Write(report));
                else
                    new BendDisplay(terminal, new Figures(input.Unit(parsed))).Show(report, input.Name(parsed, rod));
                return outcome.Findings.Any(f => f.Severity == Severity.Review) ? ExitCode.NeedsReview : ExitCode.Ok;
            },
            cancel));
        return command;
    }

    private static BendRequest WithLine(BendRequest request, string text) => AskedBends.Factor(text) is { } factor
        ? request with { LinePullFactor = factor }
        : ForceText.Parse(text) is { } newton and > 0
            ? request with { LinePullN = newton }
            : throw new UsageException($"'{text}' is no line pull: write it like 10N, 2.2lb or 1kg, or as a multiple of the photographed load, 1x.");
}

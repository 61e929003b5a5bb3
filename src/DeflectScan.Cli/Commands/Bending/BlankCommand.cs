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
using DeflectScan.Mechanics.Stiffness;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Plots;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Bending;

/// <summary><c>deflectscan blank</c>: the blank in plain engineering terms, alone or beside another one.</summary>
internal static class BlankCommand
{
    public static Command Make(Terminal terminal)
    {
        Option<string?> stations = new("--stations") { HelpName = "300mm,24in,…", Description = "Stations from the tip for the stiffness table." };
        Option<bool> stiffness = new("--stiffness") { Description = "Also show the table of stiffness along the blank." };
        Option<string?> plot = new("--plot") { HelpName = "FILE", Description = "Draw curvature and stiffness along the blank: .png, .svg or .pdf." };
        Argument<string?> second = new("OTHER.json") { Description = "Another blank's measurement.json, to compare with the first.", Arity = ArgumentArity.ZeroOrOne };
        Command command = new("blank", "Describe a measured blank: where it bends, what load turns its tip, how stiff it is; or compare two.") { stations, stiffness, plot };
        BlankInput blank = new(command);
        DeskInput input = new(command, terminal);
        command.Add(second);
        Outputs outputs = new Outputs(command).With(plot, OutputFormat.Png, OutputFormat.Svg, OutputFormat.Pdf);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                OutputFiles files = outputs.Of(parsed);
                PlotFormat? format = parsed.GetValue(plot) is { } file ? DeskOutput.PlotFormat(file) : null;
                IReadOnlyList<double>? asked = parsed.GetValue(stations) is { } list ? Stations(list, input.Unit(parsed)) : null;
                MeasuredLayout rod = input.Rod(parsed);
                string? beside = parsed.GetValue(second);
                List<(string Name, Outcome<StiffnessEstimate> Estimate)> blanks =
                    [(beside is null ? input.Name(parsed, rod) : input.DocumentPath(parsed), blank.Read(parsed, rod.Measurement, input).Estimate())];
                if (beside is not null)
                    blanks.Add((beside, new BlankSource(BlankInput.Document(beside)).Estimate()));
                cancel.ThrowIfCancellationRequested();
                Outcome<BlanksStudy> outcome = BlanksStudy.Of(blanks, asked);
                BlanksStudy study = RefusedException.Unless(outcome);
                if (format is { } kind)
                    Outputs.Write(terminal, files, parsed.GetValue(plot)!, BlankPlot.Draw(study.Profiles, kind, input.Unit(parsed)));
                if (input.Json(parsed))
                    terminal.Out.Write(DeskJson.Write(study.Report));
                else
                    new BlankDisplay(terminal, new Figures(input.Unit(parsed)), parsed.GetValue(stiffness) || asked is not null).Show(study.Report);
                return outcome.Findings.Any(f => f.Severity == Severity.Review) ? ExitCode.NeedsReview : ExitCode.Ok;
            },
            cancel));
        return command;
    }

    private static IReadOnlyList<double> Stations(string list, LengthUnit bare) =>
        [.. list.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(text =>
            LengthText.TryMm(text, bare, out double mm) && mm >= 0 ? mm : throw new UsageException($"'{text}' is no station: write it as in 402mm or 15 13/16in, from the tip."))];
}

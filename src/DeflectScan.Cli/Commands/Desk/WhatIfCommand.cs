using System.CommandLine;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Display.Desk;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary><c>deflectscan whatif</c>: another layout on the measured bend, judged without touching the rod.</summary>
internal static class WhatIfCommand
{
    public static Command Make(Terminal terminal)
    {
        Option<string[]> moves = Several("--move", "GUIDE=PLACE", "Move a guide to a station (5=402mm) or by a shift (5=+12mm); @8 behind it: with ring size 8 of the guide table.");
        Option<string[]> adds = Several("--add", "PLACE", "Add a guide at a station (512mm, 20 3/16in, 512mm@8).");
        Option<string[]> removes = Several("--remove", "GUIDE", "Take a guide off.");
        Option<bool> suggested = new("--suggested") { Description = "Make the changes that the measurement suggests." };
        Option<string> from = new("--from") { HelpName = "tip|reel", Description = "Where the stations given here are counted from.", DefaultValueFactory = _ => "tip" };
        from.AcceptOnlyFromAmong("tip", "reel");
        Option<string?> overlay = new("--overlay") { HelpName = "FILE.png", Description = "Draw both lines into the photo." };
        Option<string?> photo = new("--photo") { HelpName = "FILE", Description = "The measured photo. [default: the document's photo, beside the document]" };
        Option<string?> save = new("--save") { HelpName = "FILE.json", Description = DeskOutput.SaveHelp };
        Command command = new("whatif", "Judge another layout on a measured bend: guides moved, added, taken off.") { moves, adds, removes, suggested, from, overlay, photo, save };
        DeskInput input = new(command, terminal);
        Outputs outputs = new Outputs(command).With(save, OutputFormat.Json).With(overlay, OutputFormat.Png);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                MeasuredLayout rod = input.Rod(parsed);
                OutputFiles files = outputs.Of(parsed, rod.Measurement.PhotoBeside(input.DocumentPath(parsed)));
                ChangeText text = new(rod, parsed.GetValue(from) == "reel") { Bare = input.Unit(parsed) };
                if (text.FromReel && rod.ReelStationMm is null)
                    throw new UsageException("The reel's place is not known: give the taped distance from the reel's front to the first guide.");
                GuideChange[] changes =
                [
                    .. parsed.GetValue(suggested) ? WhatIfReport.Suggested(rod) : [],
                    .. new[] { (parsed.GetValue(moves) ?? []).Select(text.Move), (parsed.GetValue(adds) ?? []).Select(text.Add), (parsed.GetValue(removes) ?? []).Select(text.Remove) }
                        .SelectMany(c => c).Select(UsageException.Unless),
                ];
                if (changes.Length == 0)
                    throw new UsageException(parsed.GetValue(suggested) ? "The measurement suggests no change." : "Nothing is to be changed: give --move, --add or --remove.");
                WhatIfReport report = UsageException.Unless(WhatIfReport.Of(rod, changes, input.Table(parsed)));
                if (parsed.GetValue(overlay) is { } picture)
                {
                    Outcome<byte[]> drawn = WhatIfOverlay.Draw(
                        parsed.GetValue(photo) ?? rod.Measurement.PhotoBeside(input.DocumentPath(parsed)), rod, report, new OverlayOptions(Unit: input.Unit(parsed)));
                    Outputs.Write(terminal, files, picture, UsageException.Unless(drawn));
                }

                DeskOutput.Save(terminal, files, parsed.GetValue(save), DeskSheet.Of(rod, report.After, input.Name(parsed, rod)));
                if (input.Json(parsed))
                    terminal.Out.Write(DeskJson.Write(report));
                else
                    new WhatIfDisplay(terminal, new Figures(input.Unit(parsed))).Show(report, input.Name(parsed, rod));
                return ExitCode.For(rod.Measurement.Status);
            },
            cancel));
        return command;
    }

    private static Option<string[]> Several(string name, string helpName, string description) =>
        new(name) { HelpName = helpName, Description = description, Arity = ArgumentArity.OneOrMore, AllowMultipleArgumentsPerToken = false };
}

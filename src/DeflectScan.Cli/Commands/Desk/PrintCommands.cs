using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary><c>deflectscan sheet</c> and <c>deflectscan tape</c>: a layout on paper.</summary>
internal static class PrintCommands
{
    private static readonly Option<double?> AnyLength = DeskInput.Length("--blank-length", "LENGTH", 500, 6000, "Whole length of the blank; without it, what the photo showed of it.");

    public static Command Sheet(Terminal terminal) => Make(
        terminal, "sheet", "Print a layout on one page (PDF): table from the reel and from the tip, drawing to scale.", (layout, sheet, unit) => LayoutSheet.Draw(layout, sheet, unit, DateOnly.FromDateTime(DateTime.Now)), "print it");

    public static Command Tape(Terminal terminal) => Make(
        terminal, "tape", "Print a layout as a marking tape at 1:1 (PDF) to cut out, join and lay along the blank.", (layout, sheet, unit) => MarkingTape.Draw(layout, sheet, unit), "print it at 100 % and check its 100 mm rule with a ruler");

    private static Command Make(Terminal terminal, string name, string description, Func<SheetLayout, SheetPaper, LengthUnit, byte[]> draw, string then)
    {
        Argument<string> document = new("LAYOUT.json") { Description = "A layout that --save kept, or a measurement.json." };
        Option<string> file = new("--out") { HelpName = "FILE.pdf", Description = "File to write.", Required = true };
        Option<string> paper = new("--paper") { HelpName = "a4|letter", Description = "Paper that it is printed on.", DefaultValueFactory = _ => "a4" };
        paper.AcceptOnlyFromAmong("a4", "letter");
        Option<string?> title = new("--title") { HelpName = "NAME", Description = "Name of the rod or build. [default: the layout's own]" };
        Option<string> units = UnitOption.Make(terminal);
        Command command = new(name, description) { document, file, paper, title, AnyLength, units };
        Outputs outputs = new Outputs(command).With(file, OutputFormat.Pdf);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                OutputFiles files = outputs.Of(parsed);
                PrintableLayout printable = RefusedException.Unless(DocumentFile.Read(InputFile.MustBeThere(parsed.GetValue(document)!), PrintableLayout.Read));
                SheetLayout layout = UsageException.Unless(printable.On(parsed.GetValue(title), parsed.GetValue(AnyLength)));
                string path = parsed.GetValue(file)!;
                files.Write(path, draw(layout, parsed.GetValue(paper) == "letter" ? SheetPaper.Letter : SheetPaper.A4, UnitOption.Of(parsed, units)));
                if (SheetChecks.Crowded(layout) is { } crowded)
                    terminal.Say(UnitsInSentences.Of(crowded, UnitOption.Of(parsed, units)));
                terminal.Say($"Written to {Path.GetFullPath(path)}; {then}.");
                return ExitCode.For(printable.Status);
            },
            cancel));
        return command;
    }
}

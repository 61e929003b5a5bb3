using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Proving;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary><c>deflectscan proof sheet</c>: one page to fill in at the bench.</summary>
internal static class ProofSheetCommand
{
    private const string Then = "Then: deflectscan proof measurement.json --station 1=… --station 1-2=… --gap 1-2=…  (or --readings FILE.csv with lines as station,1-2,210mm,1)";

    public static Command Make(Terminal terminal)
    {
        Argument<string> document = new("MEASUREMENT.json") { Description = "The measurement that is to be proved." };
        Option<string> file = new("--out") { HelpName = "FILE.pdf", Description = "File to write.", Required = true };
        Option<string> paper = new("--paper") { HelpName = "a4|letter", Description = "Paper that it is printed on.", DefaultValueFactory = _ => "a4" };
        paper.AcceptOnlyFromAmong("a4", "letter");
        Option<string?> title = new("--title") { HelpName = "NAME", Description = "Name of the rod or build. [default: the document's photo]" };
        Option<string> units = UnitOption.Make(terminal);
        Command command = new("sheet", "Print one page (PDF) to fill in at the bench: the rod, what to tape, which gaps to read where.") { document, file, paper, title, units };
        Outputs outputs = new Outputs(command).With(file, OutputFormat.Pdf);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                OutputFiles files = outputs.Of(parsed);
                MeasuredLayout rod = DeskInput.Open(parsed.GetValue(document)!);
                if (ProofForm.PaperProblem(rod.Rings.Count) is { } problem)
                    throw new UsageException(problem);
                string name = parsed.GetValue(title) ?? rod.Measurement.Photo?.FileName ?? Path.GetFileName(parsed.GetValue(document)!);
                string path = parsed.GetValue(file)!;
                files.Write(path, ProofSheet.Draw(rod, name, parsed.GetValue(paper) == "letter" ? SheetPaper.Letter : SheetPaper.A4, Then, UnitOption.Of(parsed, units)));
                terminal.Say($"Written to {Path.GetFullPath(path)}; fill it in while the rod is still tied as in the photo.");
                return ExitCode.For(rod.Measurement.Status);
            },
            cancel));
        return command;
    }
}

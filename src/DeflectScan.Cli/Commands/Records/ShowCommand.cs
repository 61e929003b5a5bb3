using System.CommandLine;
using System.Text;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Records;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records show BUILD…</c>: all that is known of a build, on the screen or as a build sheet.</summary>
internal static class ShowCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Argument<string[]> builds = new("BUILD") { Description = "Its id, the end of its id, or its name; several for one file of sheets.", Arity = ArgumentArity.ZeroOrMore };
        Option<string?> find = new("--find") { HelpName = "WORDS", Description = "All builds that have these words, as records find finds them, at most 100: a class, an owner." };
        Option<bool> json = new("--json") { Description = "Write everything as one JSON document, the measurements' own documents included." };
        Option<string?> pdf = new("--pdf") { HelpName = "FILE", Description = "Write build sheets as PDF." };
        Option<string?> html = new("--html") { HelpName = "FILE", Description = "Write build sheets as one self-contained HTML file." };
        Option<string?> csv = new("--csv") { HelpName = "DIR", Description = "Write the build's tables as CSV files into a folder." };
        Option<string> paper = new("--paper") { HelpName = "a4|letter", Description = "Paper of the PDF.", DefaultValueFactory = _ => "a4" };
        paper.AcceptOnlyFromAmong("a4", "letter");
        Option<string?> test = new("--test") { HelpName = "TEST", Description = "The measurement that sheets and files are made of: its label or the end of its id. [default: the latest]" };
        Option<string?> document = new("--document") { HelpName = "FILE.json", Description = "Write the measurement's own document, as whatif, spacing, carry, rings and bend read it." };
        Option<string?> save = new("--save") { HelpName = "FILE.json", Description = "Keep the chosen layout, else the guides as built, else as measured, in a file that sheet and tape print from." };
        Option<string> units = UnitOption.Make(terminal);
        Command command = new("show", "Show a build: facts, guides, measurements, layouts and notes; or write its build sheet and its files.")
        {
            builds, find, json, pdf, html, csv, paper, test, document, save, units,
        };
        ExitCodeHelp.State(command, 0, 1, 2, 3, 10, 12);
        Outputs outputs = new Outputs(command).With(pdf, OutputFormat.Pdf).With(html, OutputFormat.Html).With(csv).With(document, OutputFormat.Json).With(save, OutputFormat.Json);
        command.SetAction(parsed =>
        {
            OutputFiles files = outputs.Of(parsed);
            using ArchiveReader reader = Archive.OpenForReading(ArchiveOption.Folder(parsed, archive));
            if (parsed.GetValue(builds)!.Length == 0 && parsed.GetValue(find) is null)
                throw new UsageException("Name a build, or give words with --find.");
            Build[] found = [.. BuildChoice.Meant(reader, parsed.GetValue(builds)!, parsed.GetValue(find))];
            string?[] ofOne = [parsed.GetValue(csv), parsed.GetValue(test), parsed.GetValue(document), parsed.GetValue(save)];
            if (found.Length > 1 && (parsed.GetValue(json) || ofOne.Any(o => o is not null)))
                throw new UsageException("--json, --csv, --test, --document and --save take one build.");
            StoredMeasurement? printed = parsed.GetValue(test) is { } named ? TestChoice.Named(found[0], named) : found[0].LatestTest;
            (string? pdfFile, string? htmlFile) = (parsed.GetValue(pdf), parsed.GetValue(html));
            if (pdfFile is not null || htmlFile is not null)
            {
                BuildSheet[] sheets = found.Length == 1 ? [BuildSheet.Of(reader, found[0], printed)] : [.. found.Select(b => BuildSheet.Of(reader, b))];
                if (pdfFile is not null)
                    Outputs.Write(terminal, files, pdfFile, BuildSheetPdf.Write(sheets, parsed.GetValue(paper) == "letter" ? SheetPaper.Letter : SheetPaper.A4));
                if (htmlFile is not null)
                    Outputs.Write(terminal, files, htmlFile, Encoding.UTF8.GetBytes(BuildSheetHtml.Write(sheets)));
            }

            if (parsed.GetValue(csv) is { } folder)
            {
                Outputs.WriteAll(files, folder, BuildCsv.Write(reader, found[0]), "--csv");
                terminal.Say($"Written to {Path.GetFullPath(folder)}");
            }

            if (parsed.GetValue(document) is { } documentFile)
                Outputs.Write(terminal, files, documentFile, Encoding.UTF8.GetBytes(reader.Document(printed ?? throw Refused("The build has no measurement yet: add a photo first."))));
            if (parsed.GetValue(save) is { } layoutFile)
                Save(terminal, files, layoutFile, SheetDrawing.Of(found[0], printed is null ? null : reader.Measurement(printed)));
            if (parsed.GetValue(json))
                terminal.Out.Write(BuildJson.Write(reader, found[0]));
            else if (pdfFile is null && htmlFile is null && ofOne is [null, _, null, null])
                Array.ForEach(found, new BuildDisplay(terminal, new Figures(UnitOption.Of(parsed, units))).Show);
            return ExitCode.Ok;
        });
        return command;
    }

    private static void Save(Terminal terminal, OutputFiles files, string path, (string Title, SheetLayout Layout)? layout)
    {
        if (layout is not { } kept)
            throw Refused("The build has no layout that can be printed: add its guides, a photo or a layout first.");
        Outputs.Write(terminal, files, path, Encoding.UTF8.GetBytes(LayoutJson.Write(kept.Layout)));
        terminal.Say($"It holds the {kept.Title}.");
    }

    private static ArchiveException Refused(string message) => new(ArchiveProblem.Refused, message);
}

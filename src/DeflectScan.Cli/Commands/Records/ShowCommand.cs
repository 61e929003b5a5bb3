using System.CommandLine;
using System.Text;
using DeflectScan.Cli.Display;
using DeflectScan.Records;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Reporting.Sheets;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records show BUILD…</c>: all that is known of a build, on the screen or as a build sheet.</summary>
internal static class ShowCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Argument<string[]> builds = new("BUILD") { Description = "Its id, the end of its id, or its name; several for one file of sheets.", Arity = ArgumentArity.OneOrMore };
        Option<bool> json = new("--json") { Description = "Write everything as one JSON document, the measurements' own documents included." };
        Option<string?> pdf = new("--pdf") { HelpName = "FILE", Description = "Write build sheets as PDF." };
        Option<string?> html = new("--html") { HelpName = "FILE", Description = "Write build sheets as one self-contained HTML file." };
        Option<string?> csv = new("--csv") { HelpName = "DIR", Description = "Write the build's tables as CSV files into a folder." };
        Option<string> paper = new("--paper") { HelpName = "a4|letter", Description = "Paper of the PDF.", DefaultValueFactory = _ => "a4" };
        paper.AcceptOnlyFromAmong("a4", "letter");
        Command command = new("show", "Show a build: facts, guides, measurements, layouts and notes; or write its build sheet.") { builds, json, pdf, html, csv, paper };
        ExitCodeHelp.State(command, 0, 1, 2, 3, 10, 12);
        command.SetAction(parsed =>
        {
            using ArchiveReader reader = Archive.OpenForReading(ArchiveOption.Folder(parsed, archive));
            Build[] found = [.. parsed.GetValue(builds)!.Select(b => reader.Build(reader.Resolve(b))!)];
            if (found.Length > 1 && (parsed.GetValue(json) || parsed.GetValue(csv) is not null))
                throw new UsageException("--json and --csv take one build.");
            (string? pdfFile, string? htmlFile) = (parsed.GetValue(pdf), parsed.GetValue(html));
            if (pdfFile is not null || htmlFile is not null)
            {
                BuildSheet[] sheets = [.. found.Select(b => BuildSheet.Of(reader, b))];
                if (pdfFile is not null)
                    Write(terminal, pdfFile, BuildSheetPdf.Write(sheets, parsed.GetValue(paper) == "letter" ? SheetPaper.Letter : SheetPaper.A4));
                if (htmlFile is not null)
                    Write(terminal, htmlFile, Encoding.UTF8.GetBytes(BuildSheetHtml.Write(sheets)));
            }

            if (parsed.GetValue(csv) is { } folder)
                WriteCsv(terminal, folder, BuildCsv.Write(reader, found[0]));
            if (parsed.GetValue(json))
                terminal.Out.Write(BuildJson.Write(reader, found[0]));
            else if (pdfFile is null && htmlFile is null && parsed.GetValue(csv) is null)
                Array.ForEach(found, new BuildDisplay(terminal).Show);
            return ExitCode.Ok;
        });
        return command;
    }

    private static void Write(Terminal terminal, string path, byte[] bytes)
    {
        OutputFolder.Write(path, bytes);
        terminal.Say($"Written to {Path.GetFullPath(path)}");
    }

    private static void WriteCsv(Terminal terminal, string folder, IReadOnlyList<(string Name, byte[] Bytes)> files)
    {
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new UsageException("The folder for the CSV files cannot be made: give another one with --csv.");
        }

        foreach ((string name, byte[] bytes) in files)
            OutputFolder.Write(Path.Combine(folder, name), bytes);
        terminal.Say($"Written to {Path.GetFullPath(folder)}");
    }
}

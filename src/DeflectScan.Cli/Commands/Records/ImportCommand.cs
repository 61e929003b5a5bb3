using System.CommandLine;
using System.Text.Json.Nodes;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Records;
using DeflectScan.Records.Transfer;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records import FILE.zip</c>: all of an export or nothing; what is there already stays.</summary>
internal static class ImportCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Argument<string> file = new("FILE") { Description = "A file that records export wrote." };
        Option<bool> json = new("--json") { Description = "Write the counts as JSON." };
        Command command = new("import", "Take an export into the archive, all of it or nothing; builds in both are merged.") { file, json };
        ExitCodeHelp.State(command, 0, 1, 2, 3, 10, 11, 12);
        command.SetAction(parsed =>
        {
            string export = InputFile.MustBeThere(parsed.GetValue(file)!);
            using ArchiveWriter writer = Archive.OpenForWriting(ArchiveOption.Folder(parsed, archive));
            ImportReport report = ImportFile.Read(writer, export);
            terminal.Out.WriteLine(parsed.GetValue(json)
                ? new JsonObject
                {
                    ["builds"] = report.Builds, ["measurements"] = report.Measurements, ["photos"] = report.Photos, ["rows"] = report.Rows, ["same_rows"] = report.SameRows,
                }.ToJsonString()
                : report.Rows == 0 ? "Everything in it was here already."
                : $"New here: {Counted.Of(report.Builds, "build")}, {Counted.Of(report.Measurements, "measurement")}, {Counted.Of(report.Photos, "photo")}, {Counted.Of(report.Rows, "row")} in all.");
            return ExitCode.Ok;
        });
        return command;
    }
}

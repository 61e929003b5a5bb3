using System.CommandLine;
using DeflectScan.Cli.Display;
using DeflectScan.Records;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records show BUILD</c>: all that is known of a build.</summary>
internal static class ShowCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Argument<string> build = new("BUILD") { Description = "Its id, the end of its id, or its name." };
        Option<bool> json = new("--json") { Description = "Write everything as one JSON document, the measurements' own documents included." };
        Command command = new("show", "Show a build: facts, guides, measurements, layouts and notes.") { build, json };
        ExitCodeHelp.State(command, 0, 1, 2, 3, 10, 12);
        command.SetAction(parsed =>
        {
            using ArchiveReader reader = Archive.OpenForReading(ArchiveOption.Folder(parsed, archive));
            Build found = reader.Build(reader.Resolve(parsed.GetValue(build)!))!;
            if (parsed.GetValue(json))
                terminal.Out.Write(BuildJson.Write(reader, found));
            else
                new BuildDisplay(terminal).Show(found);
            return ExitCode.Ok;
        });
        return command;
    }
}

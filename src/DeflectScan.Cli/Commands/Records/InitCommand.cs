using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Records;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records init</c>: a new archive.</summary>
internal static class InitCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Command command = new("init", "Make a new archive in an empty folder.");
        ExitCodeHelp.State(command, 0, 1, 2, 3);
        command.SetAction(parsed =>
        {
            string folder = ArchiveOption.Folder(parsed, archive);
            Archive.Create(folder);
            terminal.Say($"A new archive lies in {Path.GetFullPath(folder)}");
            return ExitCode.Ok;
        });
        return command;
    }
}

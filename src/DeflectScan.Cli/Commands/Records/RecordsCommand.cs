using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records …</c>: builds, their photos and measurements.</summary>
internal static class RecordsCommand
{
    public static Command Make(Engine engine, Terminal terminal)
    {
        Option<string?> archive = ArchiveOption.Make();
        Command command = new("records", "Keep builds with their photos, measurements, layouts and notes, find them again and compare them.")
        {
            archive,
            InitCommand.Make(archive, terminal),
            AddCommand.Make(archive, engine, terminal),
            ShowCommand.Make(archive, terminal),
            ListCommand.Make(archive, terminal),
            FindCommand.Make(archive, terminal),
            CompareCommand.Make(archive, terminal),
            NoteCommand.Make(archive, terminal),
            TestCommand.Make(archive, terminal),
            RecordsProofCommand.Make(archive, terminal),
            ExportCommand.Make(archive, terminal),
            ImportCommand.Make(archive, terminal),
            VerifyCommand.Make(archive, terminal),
        };
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 10, 11, 12, 130);
        return command;
    }
}

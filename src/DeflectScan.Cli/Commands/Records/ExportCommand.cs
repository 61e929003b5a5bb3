using System.CommandLine;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Records;
using DeflectScan.Records.Transfer;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records export FILE.zip</c>: the whole archive as one file that any unzip opens.</summary>
internal static class ExportCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Argument<string> file = new("FILE") { Description = "The zip file to write." };
        Option<bool> salvage = new("--salvage") { Description = "From a damaged archive: leave out what is damaged instead of stopping." };
        Command command = new("export", "Write the whole archive as one zip file: JSON, CSV, documents and the original photos.") { file, salvage };
        ExitCodeHelp.State(command, 0, 1, 2, 3, 10, 12);
        Outputs outputs = new Outputs(command).With(file, OutputFormat.Zip);
        command.SetAction(parsed =>
        {
            _ = outputs.Of(parsed);
            using ArchiveReader reader = Archive.OpenForReading(ArchiveOption.Folder(parsed, archive));
            ExportReport report = ExportFile.Write(reader, parsed.GetValue(file)!, parsed.GetValue(salvage));
            foreach (string left in report.LeftOut)
                terminal.Say($"Left out: {left}");
            terminal.Out.WriteLine($"{Counted.Of(report.Builds, "build")}, {Counted.Of(report.Measurements, "measurement")}, {Counted.Of(report.Photos, "photo")}, {report.Bytes / 1e6:0.0} MB: {SafeText.Of(Path.GetFullPath(parsed.GetValue(file)!))}");
            return report.LeftOut.Count == 0 ? ExitCode.Ok : ExitCode.ArchiveDamaged;
        });
        return command;
    }
}

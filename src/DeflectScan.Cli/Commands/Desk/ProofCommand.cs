using System.CommandLine;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Display.Desk;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Proving;
using DeflectScan.Records;
using DeflectScan.Records.Keeping;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary><c>deflectscan proof</c>: a measurement held against readings by hand.</summary>
internal static class ProofCommand
{
    public static Command Make(Terminal terminal)
    {
        Argument<string?> document = new("MEASUREMENT.json") { Description = "A measurement.json that measure wrote, of the rod that was read.", Arity = ArgumentArity.ZeroOrOne };
        Option<bool> json = new("--json") { Description = "Write one JSON object to standard output, and nothing else." };
        Option<string> units = UnitOption.Make(terminal);
        Option<string?> build = new("--build") { HelpName = "BUILD", Description = "Keep the proof with this build of the archive, whose measurement it is: its id, the end of its id, or its name." };
        Option<string?> archive = new("--archive") { HelpName = "DIR", Description = $"The archive's folder. [default: ${ArchiveOption.Variable}, else {ArchiveOption.Default} here]" };
        Command command = new("proof", "Hold a measurement against readings by tape and caliper: do its figures hold, and if not, what is wrong.")
        {
            document, json, units, build, archive, ProofSheetCommand.Make(terminal), ProofBundleCommand.Make(terminal),
        };
        ReadingOptions readings = new(command);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 10, 11, 12, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                string path = parsed.GetValue(document) ?? throw new UsageException("Name the measurement.json that measure wrote.");
                IReadOnlyList<HandReading> read = readings.Read(parsed, UnitOption.Of(parsed, units));
                Measurement m = RefusedException.Unless(DocumentFile.Read(InputFile.MustBeThere(path), MeasurementJson.Read));
                ProofReport report = RefusedException.Unless(ProofRule.Of(m, read));
                if (parsed.GetValue(build) is { } kept)
                    Keep(terminal, ArchiveOption.Folder(parsed, archive), kept, m, report);
                if (parsed.GetValue(json))
                    terminal.Out.Write(ProofJson.Write(report, m));
                else
                    new ProofDisplay(terminal, new Figures(UnitOption.Of(parsed, units))).Show(report, m.Photo?.FileName ?? Path.GetFileName(path));
                return report.Verdict == ProofVerdict.Agree ? ExitCode.For(m.Status) : ExitCode.NeedsReview;
            },
            cancel));
        return command;
    }

    private static void Keep(Terminal terminal, string folder, string build, Measurement measurement, ProofReport report)
    {
        using ArchiveWriter writer = Archive.OpenForWriting(folder);
        string id = writer.Reader.Resolve(build);
        ProofKeeping.Add(writer, id, measurement, report);
        terminal.Say($"Kept with \"{writer.Reader.Build(id)!.Facts.Name}\".");
    }
}

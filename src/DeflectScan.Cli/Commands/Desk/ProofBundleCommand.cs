using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Proving;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Proofs;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary><c>deflectscan proof bundle</c>: photo, document and readings as one file for the authors, after asking.</summary>
internal static class ProofBundleCommand
{
    public static Command Make(Terminal terminal)
    {
        Argument<string> document = new("MEASUREMENT.json") { Description = "The measurement that was proved." };
        Option<string> file = new("--out") { HelpName = "FILE.zip", Description = "File to write.", Required = true };
        Option<string?> photo = new("--photo") { HelpName = "FILE", Description = "The measured photo. [default: the document's photo, beside the document]" };
        Option<bool> yes = new("--yes") { Description = "Do not ask." };
        Option<string> units = UnitOption.Make(terminal);
        Command command = new("bundle", "Put photo, document and readings into one zip file for others; position and serial numbers are taken out of the photo.") { document, file, photo, yes, units };
        ReadingOptions readings = new(command);
        Outputs outputs = new Outputs(command).With(file, OutputFormat.Zip);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                string path = parsed.GetValue(document)!;
                IReadOnlyList<HandReading> read = readings.Read(parsed, UnitOption.Of(parsed, units));
                Measurement m = RefusedException.Unless(DocumentFile.Read(InputFile.MustBeThere(path), MeasurementJson.Read));
                ProofReport report = RefusedException.Unless(ProofRule.Of(m, read));
                string picture = parsed.GetValue(photo) ?? m.PhotoBeside(path);
                OutputFiles files = outputs.Of(parsed, picture);
                byte[] zip = RefusedException.Unless(ProofBundle.Make(m, read, report, UsageException.Unless(ProofBundle.ReadPhoto(picture))));
                string target = parsed.GetValue(file)!;
                terminal.Say($"The file will hold: the photo ({Path.GetFileName(picture)}) as it was taken, without position, serial numbers, maker's notes and thumbnail, but with camera, lens and time; its figures; {Counted(read.Count)}. What the photo shows, anyone will see who gets the file.");
                if (!parsed.GetValue(yes) && !Agreed(terminal))
                {
                    terminal.Say("Nothing was written.");
                    return ExitCode.Cancelled;
                }

                files.Write(target, zip);
                terminal.Say($"Written to {Path.GetFullPath(target)}; nothing was sent to anyone.");
                return ExitCode.Ok;
            },
            cancel));
        return command;
    }

    private static bool Agreed(Terminal terminal)
    {
        if (terminal.In is not { } input)
            throw new UsageException("Nobody is there to be asked: say --yes if the photo may be put into the file.");
        terminal.Error.Write("Write it? [y/N] ");
        return input.ReadLine()?.Trim() is "y" or "Y" or "yes";
    }

    private static string Counted(int readings) => readings == 1 ? "1 reading" : $"{readings} readings";
}

using System.CommandLine;
using DeflectScan.Checking;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Cli.Commands;

/// <summary><c>deflectscan check PHOTO</c>: whether the photo will do, while the rod is still tied.</summary>
internal static class CheckCommand
{
    public static Command Make(Engine engine, Terminal terminal)
    {
        Argument<string> photo = new("PHOTO") { Description = "JPEG, PNG or WebP file (HEIC where heif-convert is installed)." };
        Option<bool> json = new("--json") { Description = "Write the result to standard output as JSON, and nothing else." };
        Option<bool> rest = new("--at-rest") { Description = "The rod is unloaded, as for measure --at-rest." };
        Command command = new("check", "Say in a second whether a photo will do, and what to change before the rod is let down.") { photo, rest, json };
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                string path = parsed.GetValue(photo)!;
                CheckReport report = engine.Check(path, parsed.GetValue(rest));
                if (parsed.GetValue(json))
                    terminal.Out.Write(CheckJson.Write(report));
                else
                    new CheckDisplay(terminal).Show(report, Path.GetFileName(path));
                return report.Verdict switch
                {
                    CheckVerdict.Good => ExitCode.Ok,
                    CheckVerdict.Doubtful => ExitCode.NeedsReview,
                    _ => ExitCode.Refused,
                };
            },
            cancel));
        return command;
    }
}

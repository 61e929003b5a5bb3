using System.CommandLine;
using System.Text;
using DeflectScan.Calibration.Lens;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Json;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands;

/// <summary><c>deflectscan lens PHOTOS… --out FILE</c>: a lens profile from photos of a scale card or a chessboard.</summary>
internal static class LensCommand
{
    public static Command Make(Engine engine, Terminal terminal)
    {
        Argument<string[]> photos = new("PHOTOS") { Description = "Photos of a scale card or a chessboard, all with one camera, lens, zoom and size.", Arity = ArgumentArity.OneOrMore };
        Option<string> file = new("--out") { HelpName = "FILE.json", Description = "Profile to write; a picture of the distortion is written beside it as .png.", Required = true };
        Option<string?> board = new("--board") { HelpName = "9x6", Description = "Inner corners of a chessboard, columns x rows. [default: scale cards]" };
        Option<double?> square = new("--square") { CustomParser = MeasureText.Millimetres, HelpName = "25mm", Description = "Side of the chessboard's squares. [default: 25 mm]" };
        Option<string?> name = new("--name") { HelpName = "TEXT", Description = "What reports call the lens. [default: the camera's model]" };
        Option<bool> json = new("--json") { Description = "Write the report to standard output as JSON, and nothing else." };
        Command command = new("lens", "Calibrate a camera's lens, so that figures far from the cards become surer.") { photos, file, board, square, name, json };
        Outputs outputs = new Outputs(command).With(file, OutputFormat.Json);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () => Run(engine, terminal, outputs.Of(parsed), Read(parsed.GetValue(photos)!, parsed.GetValue(file)!, parsed.GetValue(board), parsed.GetValue(square), parsed.GetValue(name)), parsed.GetValue(json), cancel),
            cancel));
        return command;
    }

    private static LensRequest Read(string[] photos, string file, string? board, double? square, string? name)
    {
        if (square is { } mm && mm is not (>= 1 and <= 1000))
            throw new UsageException("The chessboard's squares must be from 1 to 1000 mm.");
        if (square is not null && board is null)
            throw new UsageException("Give --board, the chessboard's inner corners, together with --square.");
        BoardPattern? pattern = null;
        if (board is not null && (pattern = BoardPattern.Parse(board, square ?? 25)) is null)
            throw new UsageException("The board must be given by its inner corners, columns x rows from 3 to 60: 9x6.");
        if (name is not null && (name.Length is 0 or > 80 || name.Any(char.IsControl)))
            throw new UsageException("The lens's name must have 1 to 80 letters, figures and spaces.");
        return new LensRequest(photos, file, pattern, name);
    }

    private static int Run(Engine engine, Terminal terminal, OutputFiles files, LensRequest request, bool json, CancellationToken cancel)
    {
        string picture = Path.ChangeExtension(request.File, ".png");
        files.Expect(picture, [OutputFormat.Png]);
        ProgressLine progress = new(terminal);
        LensCalibration lens;
        try
        {
            lens = RefusedException.Unless(engine.Calibrate(request, progress, cancel));
        }
        finally
        {
            progress.Done();
        }

        files.Write(request.File, Encoding.UTF8.GetBytes(lens.Profile.Write() + "\n"));
        files.Write(picture, DistortionPicture.Draw(lens));
        if (json)
            terminal.Out.Write(LensJson.Write(lens));
        else
            new LensDisplay(terminal).Show(lens);
        terminal.Say($"Written to {Path.GetFullPath(request.File)} and {Path.GetFileName(picture)}.");
        return lens.Warnings.Count > 0 ? ExitCode.NeedsReview : ExitCode.Ok;
    }
}

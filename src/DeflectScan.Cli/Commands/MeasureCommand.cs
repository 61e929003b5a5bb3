using System.CommandLine;
using System.Text;
using DeflectScan.Cli.Commands.Records;
using DeflectScan.Cli.Display;
using DeflectScan.Records.Keeping;
using DeflectScan.Reporting.Json;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands;

/// <summary><c>deflectscan measure PHOTO</c>: the main job.</summary>
internal static class MeasureCommand
{
    public static Command Make(Engine engine, Terminal terminal)
    {
        Argument<string[]> photo = new("PHOTO")
        {
            Description = "JPEG, PNG or WebP file (HEIC where heif-convert is installed); several of one set-up with --repeat.", Arity = ArgumentArity.OneOrMore,
        };
        Option<bool> repeat = new("--repeat") { Description = "The photos are of one set-up: put their figures together and hold their spread against what they state." };
        Option<bool> budget = new("--budget") { Description = "Also show what makes the figures uncertain, in shares, and what would help." };
        Option<bool> json = new("--json") { Description = "Write the measurement document to standard output, and nothing else." };
        Option<string?> folder = new("--out") { HelpName = "DIR", Description = "Folder for measurement.json, overlay.png and unrolled.png; with --repeat for repeat.json and one photo's overlay.png." };
        Command command = new("measure", "Measure a photo of the tied-off rod: every gap between line and blank, and where one more guide would go.")
        {
            photo, json, folder, repeat, budget,
        };
        MeasureFlags flags = new(command, terminal);
        Outputs outputs = new Outputs(command).With(folder);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                ResultsFolder? results = parsed.GetValue(folder) is { } place ? new ResultsFolder(place, outputs.Of(parsed), outputs.Force(parsed)) : null;
                return Choose(
                    engine, terminal, parsed.GetValue(photo)!, parsed.GetValue(repeat), new Request("", parsed.GetValue(json), results, parsed.GetValue(folder), flags.Read(parsed)) { Budget = parsed.GetValue(budget) }, cancel);
            },
            cancel));
        return command;
    }

    private static int Choose(Engine engine, Terminal terminal, string[] photos, bool repeat, Request request, CancellationToken cancel)
    {
        if (!repeat && photos.Length > 1)
            throw new UsageException("Give one photo, or several of the same set-up with --repeat.");
        if (!repeat)
            return Run(engine, terminal, request with { PhotoPath = photos[0] }, cancel);
        if (request.Options.AtRest)
            throw new UsageException("--repeat compares gaps, and a rod at rest has none: measure its photo alone.");
        return RepeatRun.Run(engine, terminal, photos, request, cancel);
    }

    /// <summary>What was asked for.</summary>
    internal sealed record Request(string PhotoPath, bool Json, ResultsFolder? Results, string? Folder, MeasureOptions Options)
    {
        /// <summary>Show what makes the figures uncertain.</summary>
        public bool Budget { get; init; }
    }

    internal static int Run(Engine engine, Terminal terminal, Request request, CancellationToken cancel)
    {
        request.Results?.Prepare([request.PhotoPath], together: false);
        ProgressLine progress = new(terminal);
        try
        {
            using MeasuredPhoto measured = engine.Measure(request.PhotoPath, request.Options, progress, cancel);
            cancel.ThrowIfCancellationRequested();
            string document = request.Json || request.Folder is not null ? MeasurementJson.Write(measured.Measurement) : "";
            if (request.Results is { } results)
                WriteFolder(results, measured, document, progress, cancel);
            progress.Done();
            if (request.Json)
                terminal.Out.Write(document);
            else
            {
                new MeasurementDisplay(terminal, new Figures(request.Options.Units), request.Budget).Show(measured.Measurement, Path.GetFileName(request.PhotoPath));
                if (measured.Measurement.Covariance is not null && ProofKeeping.LineFor(ArchiveOption.Folder(null), measured.Measurement) is { } proved)
                    terminal.Out.WriteLine(SafeText.Of(proved));
            }

            if (request.Folder is not null)
                terminal.Say($"Written to {Path.GetFullPath(request.Folder)}");
            return ExitCode.For(measured.Measurement.Status);
        }
        finally
        {
            progress.Done();
        }
    }

    private static void WriteFolder(ResultsFolder results, MeasuredPhoto measured, string document, ProgressLine progress, CancellationToken cancel)
    {
        progress.Report("Drawing the pictures");
        byte[]? overlay = measured.OverlayPng?.Invoke();
        cancel.ThrowIfCancellationRequested();
        byte[]? unrolled = measured.UnrolledPng?.Invoke();
        cancel.ThrowIfCancellationRequested();
        results.Replace(ResultsFolder.Overlay, overlay);
        results.Replace(ResultsFolder.Unrolled, unrolled);
        results.Replace(ResultsFolder.Document, Encoding.UTF8.GetBytes(document));
    }
}

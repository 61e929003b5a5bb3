using System.CommandLine;
using System.Text;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Measuring;
using DeflectScan.Photos;
using DeflectScan.Records.Keeping;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Csv;
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
            Description = "JPEG, PNG or WebP file (HEIC where heif-convert is installed), or a folder of them; each stands for itself, or with --repeat all for one set-up.", Arity = ArgumentArity.OneOrMore,
        };
        Option<bool> repeat = new("--repeat") { Description = "The photos are of one set-up: put their figures together and hold their spread against what they state." };
        Option<bool> budget = new("--budget") { Description = "Also show what makes the figures uncertain, in shares, and what would help." };
        Option<bool> json = new("--json") { Description = "Write the measurement document to standard output, and nothing else; of several photos one line each." };
        Option<string?> folder = new("--out") { HelpName = "DIR", Description = "Folder for measurement.json, overlay.png and unrolled.png, of several photos a folder each; with --repeat for repeat.json and one photo's overlay.png." };
        Option<string?> csv = new("--csv") { HelpName = "FILE.csv", Description = "Write a table of all photos, a line each." };
        Option<int?> atOnce = new("--at-once") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Photos that are measured at once, at most. [default: one a processor, fewer where they are large]" };
        Command command = new("measure", "Measure photos of a tied-off rod: every gap between line and blank, and where one more guide would go.")
        {
            photo, json, folder, csv, atOnce, repeat, budget,
        };
        MeasureFlags flags = new(command, terminal);
        Outputs outputs = new Outputs(command).With(folder).With(csv, OutputFormat.Csv);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                if (parsed.GetValue(atOnce) is < 1 or > 64)
                    throw new UsageException("The number of photos at once must be from 1 to 64.");
                string[] photos = parsed.GetValue(photo)!;
                bool many = ManyRun.IsMany(photos) && !parsed.GetValue(repeat);
                OutputFiles files = outputs.Of(parsed, many ? PhotoFolder.Expand(photos) : []);
                ResultsFolder? results = !many && parsed.GetValue(folder) is { } place ? new ResultsFolder(place, files, outputs.Force(parsed)) : null;
                Request request = new("", parsed.GetValue(json), results, parsed.GetValue(folder), flags.Read(parsed)) { Budget = parsed.GetValue(budget) };
                ManyOptions usual = new();
                ManyRun.Writes writes = new(files, parsed.GetValue(csv), outputs.Force(parsed), usual with { AtOnce = parsed.GetValue(atOnce) ?? usual.AtOnce });
                return many ? ManyRun.Run(engine, terminal, photos, request, writes, cancel) : Choose(engine, terminal, photos, parsed.GetValue(repeat), request, writes, cancel);
            },
            cancel));
        return command;
    }

    private static int Choose(Engine engine, Terminal terminal, string[] photos, bool repeat, Request request, ManyRun.Writes writes, CancellationToken cancel)
    {
        if (!repeat)
            return Run(engine, terminal, request with { PhotoPath = photos[0] }, cancel, writes);
        if (writes.Csv is not null)
            throw new UsageException("--csv is a table of photos that stand each for itself: leave out --repeat.");
        if (request.Options.AtRest)
            throw new UsageException("--repeat compares gaps, and a rod at rest has none: measure its photo alone.");
        return RepeatRun.Run(engine, terminal, PhotoFolder.Expand(photos), request, cancel);
    }

    /// <summary>What was asked for.</summary>
    internal sealed record Request(string PhotoPath, bool Json, ResultsFolder? Results, string? Folder, MeasureOptions Options)
    {
        /// <summary>Show what makes the figures uncertain.</summary>
        public bool Budget { get; init; }
    }

    internal static int Run(Engine engine, Terminal terminal, Request request, CancellationToken cancel, ManyRun.Writes? writes = null)
    {
        request.Results?.Prepare([request.PhotoPath], together: false);
        ProgressLine progress = new(terminal);
        try
        {
            using MeasuredPhoto measured = engine.Measure(request.PhotoPath, request.Options, progress, cancel);
            cancel.ThrowIfCancellationRequested();
            string document = request.Json || request.Folder is not null ? MeasurementJson.Write(measured.Measurement) : "";
            if (request.Results is { } results)
            {
                progress.Report("Drawing the pictures");
                WriteFolder(results, measured, document, cancel);
            }

            progress.Done();
            if (writes?.Csv is { } csv)
                writes.Files.Write(csv, MeasurementsCsv.Write([new MeasuredFile(Path.GetFileName(request.PhotoPath), measured.Measurement, null)]));
            if (request.Json)
                terminal.Out.Write(document);
            else
            {
                new MeasurementDisplay(terminal, new Figures(request.Options.Units), request.Budget).Show(measured.Measurement, Path.GetFileName(request.PhotoPath));
                if (measured.Measurement.Covariance is not null && ProofKeeping.LineFor(ArchiveOption.Folder(null), measured.Measurement) is { } proved)
                    terminal.Out.WriteLine(SafeText.Of(CommandWords.Of(proved)));
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

    internal static void WriteFolder(ResultsFolder results, MeasuredPhoto measured, string document, CancellationToken cancel)
    {
        byte[]? overlay = measured.OverlayPng?.Invoke();
        cancel.ThrowIfCancellationRequested();
        byte[]? unrolled = measured.UnrolledPng?.Invoke();
        cancel.ThrowIfCancellationRequested();
        results.Replace(ResultsFolder.Overlay, overlay);
        results.Replace(ResultsFolder.Unrolled, unrolled);
        results.Replace(ResultsFolder.Document, Encoding.UTF8.GetBytes(document));
    }
}

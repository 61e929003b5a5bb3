using System.Text;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Running;
using DeflectScan.Repeating;
using DeflectScan.Reporting.Json;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands;

/// <summary><c>deflectscan measure A B C --repeat</c>: several photos of one set-up put together.</summary>
internal static class RepeatRun
{
    public static int Run(Engine engine, Terminal terminal, IReadOnlyList<string> photos, MeasureCommand.Request request, CancellationToken cancel)
    {
        if (photos.Count < 2)
            throw new UsageException("Give two or more photos of the same set-up with --repeat.");
        request.Results?.Prepare(photos, together: true);
        ProgressLine progress = new(terminal);
        RepeatReport report;
        List<(string File, Measurement Measurement)> measured = [];
        try
        {
            foreach (string photo in photos)
            {
                cancel.ThrowIfCancellationRequested();
                using MeasuredPhoto one = engine.Measure(photo, request.Options, progress, cancel);
                measured.Add((Path.GetFileName(photo), one.Measurement));
            }

            report = RepeatRule.Combine(measured);
            if (request.Results is { } results)
                WriteFolder(engine, results, report, photos, request.Options, progress, cancel);
        }
        finally
        {
            progress.Done();
        }

        if (request.Json)
            terminal.Out.Write(RepeatJson.Write(report));
        else
            new RepeatDisplay(terminal, new Figures(request.Options.Units)).Show(report);
        if (request.Folder is not null)
            terminal.Say($"Written to {Path.GetFullPath(request.Folder)}");
        return ExitCode.For(report.Status);
    }

    /// <summary>The document of all, and the overlay of the one photo that is most like their mean: it is measured again, so that only one is held at a time.</summary>
    private static void WriteFolder(
        Engine engine, ResultsFolder results, RepeatReport report, IReadOnlyList<string> photos, MeasureOptions options, IProgress<string> progress, CancellationToken cancel)
    {
        byte[]? overlay = null;
        if (report.Typical is { } typical)
        {
            using MeasuredPhoto shown = engine.Measure(photos[typical], options, progress, cancel);
            progress.Report("Drawing the picture");
            overlay = shown.OverlayPng?.Invoke();
        }

        cancel.ThrowIfCancellationRequested();
        results.Replace(ResultsFolder.Overlay, overlay);
        results.Replace(ResultsFolder.Repeat, Encoding.UTF8.GetBytes(RepeatJson.Write(report)));
    }
}

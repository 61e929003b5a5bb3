using DeflectScan.Cli.Display;
using DeflectScan.Repeating;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Cli.Commands;

/// <summary><c>deflectscan measure A B C --repeat</c>: several photos of one set-up put together.</summary>
internal static class RepeatRun
{
    public static int Run(Engine engine, Terminal terminal, IReadOnlyList<string> photos, bool json, MeasureOptions options, CancellationToken cancel)
    {
        if (photos.Count < 2)
            throw new UsageException("Give two or more photos of the same set-up with --repeat.");
        ProgressLine progress = new(terminal);
        List<(string File, Measurement Measurement)> measured = [];
        try
        {
            foreach (string photo in photos)
            {
                cancel.ThrowIfCancellationRequested();
                using MeasuredPhoto one = engine.Measure(photo, options, progress, cancel);
                measured.Add((Path.GetFileName(photo), one.Measurement));
            }
        }
        finally
        {
            progress.Done();
        }

        RepeatReport report = RepeatRule.Combine(measured);
        if (json)
            terminal.Out.Write(RepeatJson.Write(report));
        else
            new RepeatDisplay(terminal).Show(report);
        return ExitCode.For(report.Status);
    }
}

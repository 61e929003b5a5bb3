using System.CommandLine;
using System.Text.Json.Nodes;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Records;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records add</c>: a build, or photos and facts to one that is there. Photos are measured first, then all is added or nothing.</summary>
internal static class AddCommand
{
    public static Command Make(Option<string?> archive, Engine engine, Terminal terminal)
    {
        Argument<string[]> photos = new("PHOTO") { Description = "Photos to measure and keep; none: the build's facts alone.", Arity = ArgumentArity.ZeroOrMore };
        Option<string?> build = new("--build") { HelpName = "BUILD", Description = "A build that is there: its id, the end of its id, or its name." };
        Option<string[]> label = new("--label") { HelpName = "TEXT", Description = "What to call the measurement, as \"first test\": one for all photos, or one for each in their order." };
        Option<bool> json = new("--json") { Description = "Write the new ids as JSON." };
        Command command = new("add", "Add a build, or add photos and facts to one; the photos are measured, copied and never altered.") { photos, build, label, json };
        BuildFlags facts = new(command);
        MeasureFlags measure = new(command, terminal);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 10, 11, 12, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                string folder = ArchiveOption.Folder(parsed, archive);
                MeasureOptions options = measure.Read(parsed);
                string[] files = parsed.GetValue(photos)!;
                string[] labels = parsed.GetValue(label) ?? [];
                if (parsed.GetValue(build) is null && !facts.GivesName(parsed))
                    throw new UsageException("Give --name for a new build, or --build for one that is there.");
                if (labels.Length > 1 && labels.Length != files.Length)
                    throw new UsageException("Give one --label for all photos, or one for each.");
                using (ArchiveReader reader = Archive.OpenForReading(folder))
                    PhotoKeeping.Check(reader, parsed.GetValue(build), known => facts.Read(parsed, options, known));
                bool asMeasured = facts.AsMeasured(parsed);
                List<Measurement>? measured = Measure(engine, terminal, files, options, cancel);
                return measured is null
                    ? ExitCode.Refused
                    : Add(terminal, folder, new Request(parsed.GetValue(build), known => facts.Read(parsed, options, known), asMeasured, files, measured, options, labels, parsed.GetValue(json)));
            },
            cancel));
        return command;
    }

    private sealed record Request(
        string? Build,
        Func<BuildFacts?, BuildFacts> Facts,
        bool AsMeasured,
        string[] Photos,
        List<Measurement> Measured,
        MeasureOptions Options,
        string[] Labels,
        bool Json)
    {
        public string? Label(int photo) => Labels.Length > 1 ? Labels[photo] : Labels.FirstOrDefault();
    }

    private static List<Measurement>? Measure(Engine engine, Terminal terminal, string[] photos, MeasureOptions options, CancellationToken cancel)
    {
        List<Measurement> measured = [];
        bool refused = false;
        ProgressLine progress = new(terminal);
        foreach (string photo in photos)
        {
            if (photos.Length > 1)
                terminal.Say($"Photo {measured.Count + 1} of {photos.Length}: {Path.GetFileName(photo)}");
            try
            {
                using MeasuredPhoto result = engine.Measure(photo, options, progress, cancel);
                cancel.ThrowIfCancellationRequested();
                measured.Add(result.Measurement);
            }
            finally
            {
                progress.Done();
            }

            if (measured[^1].Status == MeasurementStatus.Refused)
            {
                refused = true;
                foreach (Findings.Finding finding in measured[^1].Findings)
                    terminal.Say($"{Path.GetFileName(photo)}: {finding.Message}");
            }
        }

        if (refused)
            terminal.Say("Nothing was added: a refused photo has no figures to keep.");
        return refused ? null : measured;
    }

    private static int Add(Terminal terminal, string folder, Request request)
    {
        using ArchiveWriter writer = Archive.OpenForWriting(folder);
        (string id, IReadOnlyList<(string Id, bool WasThere)> added) = PhotoKeeping.Keep(writer, new PhotosToKeep(
            request.Build, request.Facts, [.. request.Photos.Select((photo, i) => NewMeasurement.Of(request.Measured[i], photo, request.Options, request.Label(i)))], request.AsMeasured));
        Report(terminal, writer.Reader.Build(id)!, request, added);
        return request.Measured.Exists(m => m.Status == MeasurementStatus.NeedsReview) ? ExitCode.NeedsReview : ExitCode.Ok;
    }

    private static void Report(Terminal terminal, Build build, Request request, IReadOnlyList<(string Id, bool WasThere)> added)
    {
        if (request.Json)
        {
            JsonArray measurements = [.. added.Select(a => (JsonNode)new JsonObject { ["id"] = a.Id, ["was_there"] = a.WasThere })];
            terminal.Out.WriteLine(new JsonObject { ["build"] = build.Id, ["measurements"] = measurements }.ToJsonString());
            return;
        }

        terminal.Out.WriteLine(SafeText.Of($"{build.Facts.Name}: {build.Id}"));
        for (int i = 0; i < added.Count; i++)
        {
            string what = added[i].WasThere ? "had been measured and kept already" : request.Measured[i].Status == MeasurementStatus.Ok ? "measured and kept" : "measured and kept, needs review";
            terminal.Out.WriteLine(SafeText.Of($"  {Path.GetFileName(request.Photos[i])}: {what}"));
        }
    }
}

using System.CommandLine;
using System.Text.Json.Nodes;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Records;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records verify</c>: reads every file and row.</summary>
internal static class VerifyCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Option<bool> repair = new("--repair") { Description = "Make again what follows from whole rows: lists, words, the seal." };
        Option<bool> remeasure = new("--remeasure") { Description = "Also measure every stored photo again and hold the figures against the stored ones." };
        Option<bool> json = new("--json") { Description = "Write the report as JSON." };
        Command command = new("verify", "Read every file and row of the archive; name each damage and what can be recovered.") { repair, remeasure, json };
        ExitCodeHelp.State(command, 0, 1, 2, 10, 11, 12, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                string folder = ArchiveOption.Folder(parsed, archive);
                CheckReport report = ArchiveCheck.Run(folder, parsed.GetValue(repair));
                bool again = parsed.GetValue(remeasure) && report.IsClean;
                if (!parsed.GetValue(json))
                    Show(terminal, report);
                List<Remeasured> made = again ? Remeasure(terminal, folder, cancel) : [];
                if (parsed.GetValue(json))
                    terminal.Out.WriteLine(Json(report, again ? made : null).ToJsonString());
                else if (again)
                    terminal.Out.WriteLine($"{made.Count(m => m.Verdict == RemeasureVerdict.Same)} of {Counted.Of(made.Count, "measurement")} made again give the same figures.");
                return report.IsClean && made.TrueForAll(m => m.Verdict != RemeasureVerdict.Different) ? ExitCode.Ok : ExitCode.ArchiveDamaged;
            },
            cancel));
        return command;
    }

    /// <summary>Measures every stored photo again and says on standard error how each came out.</summary>
    private static List<Remeasured> Remeasure(Terminal terminal, string folder, CancellationToken cancel)
    {
        List<Remeasured> made = [];
        using ArchiveReader reader = Archive.OpenForReading(folder);
        foreach (Remeasured again in Remeasuring.All(reader, cancel))
        {
            made.Add(again);
            StoredMeasurement stored = again.Measurement;
            string figures = again.GapsDifferByMm switch
            {
                null => "other figures, with other pairs of guides",
                < 0.01 => "other figures, though no gap by 0.01 mm",
                { } by => $"other figures, gaps by at most {by:0.00} mm",
            };
            terminal.Say($"{again.Build}, {stored.Label ?? $"{stored.MadeAt:yyyy-MM-dd}"} ({BuildTables.ShortId(stored.Id)}): " + again.Verdict switch
            {
                RemeasureVerdict.Same => "the same figures",
                RemeasureVerdict.OtherVersion => $"{figures}; it was made by {stored.ProgramVersion}, which is not this program",
                _ => $"{figures}, from the very same program",
            });
        }

        return made;
    }

    private static void Show(Terminal terminal, CheckReport report)
    {
        foreach (Damage d in report.Damages)
        {
            terminal.Out.WriteLine(SafeText.Of($"{d.Where}: {d.What}."));
            terminal.Out.WriteLine(SafeText.Of($"    {CommandWords.Of(d.Recovery)}"));
        }

        foreach (string note in report.Notes)
            terminal.Out.WriteLine(SafeText.Of(note));
        string read = $"{Counted.Of(report.Builds, "build")}, {Counted.Of(report.Measurements, "measurement")}, {Counted.Of(report.Photos, "photo")}, {report.Bytes / 1e6:0.0} MB read";
        terminal.Out.WriteLine(report.IsClean ? $"All is as it was written: {read}." : $"{Counted.Of(report.Damages.Count, "damage")}: {read}.");
    }

    private static JsonObject Json(CheckReport report, List<Remeasured>? made) => new()
    {
        ["clean"] = report.IsClean,
        ["builds"] = report.Builds,
        ["measurements"] = report.Measurements,
        ["photos"] = report.Photos,
        ["bytes"] = report.Bytes,
        ["damages"] = new JsonArray([.. report.Damages.Select(d => (JsonNode)new JsonObject { ["where"] = d.Where, ["what"] = d.What, ["recovery"] = d.Recovery })]),
        ["notes"] = new JsonArray([.. report.Notes.Select(n => (JsonNode)n)]),
        ["measured_again"] = made is null ? null : new JsonArray([.. made.Select(m => (JsonNode)new JsonObject
        {
            ["id"] = m.Measurement.Id,
            ["gaps_differ_by_mm"] = m.GapsDifferByMm,
            ["verdict"] = m.Verdict switch { RemeasureVerdict.Same => "same", RemeasureVerdict.OtherVersion => "other-version", _ => "different" },
        })]),
    };
}

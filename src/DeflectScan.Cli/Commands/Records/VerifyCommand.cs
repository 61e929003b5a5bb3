using System.CommandLine;
using System.Text.Json.Nodes;
using DeflectScan.Cli.Display;
using DeflectScan.Records;
using DeflectScan.Records.Checking;
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
        ExitCodeHelp.State(command, 0, 1, 2, 10, 11, 12);
        command.SetAction(parsed =>
        {
            CheckReport report = ArchiveCheck.Run(ArchiveOption.Folder(parsed, archive), parsed.GetValue(repair));
            if (parsed.GetValue(json))
                terminal.Out.WriteLine(Json(report).ToJsonString());
            else
                Show(terminal, report);
            bool same = !parsed.GetValue(remeasure) || !report.IsClean || Remeasure(terminal, ArchiveOption.Folder(parsed, archive));
            return report.IsClean && same ? ExitCode.Ok : ExitCode.ArchiveDamaged;
        });
        return command;
    }

    /// <summary>Says on standard error how each measurement came out again; false where one differs under the same version.</summary>
    private static bool Remeasure(Terminal terminal, string folder)
    {
        bool same = true;
        using ArchiveReader reader = Archive.OpenForReading(folder);
        for (int page = 1; reader.List(page) is { Count: > 0 } builds; page++)
        {
            foreach (StoredMeasurement stored in builds.SelectMany(b => reader.Build(b.Id)!.Measurements))
            {
                using MeasureRun run = Remeasuring.Run(reader, stored);
                RemeasureVerdict verdict = Remeasuring.Compare(reader, stored, run.Measurement);
                same &= verdict != RemeasureVerdict.Different;
                terminal.Say($"{stored.Id}: " + verdict switch
                {
                    RemeasureVerdict.Same => "the same figures",
                    RemeasureVerdict.OtherVersion => $"other figures; it was made by version {stored.ProgramVersion}",
                    _ => "other figures from the same version",
                });
            }
        }

        return same;
    }

    private static void Show(Terminal terminal, CheckReport report)
    {
        foreach (Damage d in report.Damages)
        {
            terminal.Out.WriteLine(SafeText.Of($"{d.Where}: {d.What}."));
            terminal.Out.WriteLine(SafeText.Of($"    {d.Recovery}"));
        }

        foreach (string note in report.Notes)
            terminal.Out.WriteLine(SafeText.Of(note));
        string read = $"{report.Builds} builds, {report.Measurements} measurements, {report.Photos} photos, {report.Bytes / 1e6:0.0} MB read";
        terminal.Out.WriteLine(report.IsClean ? $"All is as it was written: {read}." : $"{report.Damages.Count} damage(s): {read}.");
    }

    private static JsonObject Json(CheckReport report) => new()
    {
        ["clean"] = report.IsClean,
        ["builds"] = report.Builds,
        ["measurements"] = report.Measurements,
        ["photos"] = report.Photos,
        ["bytes"] = report.Bytes,
        ["damages"] = new JsonArray([.. report.Damages.Select(d => (JsonNode)new JsonObject { ["where"] = d.Where, ["what"] = d.What, ["recovery"] = d.Recovery })]),
        ["notes"] = new JsonArray([.. report.Notes.Select(n => (JsonNode)n)]),
    };
}

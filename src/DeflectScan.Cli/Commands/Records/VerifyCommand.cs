using System.CommandLine;
using System.Text.Json.Nodes;
using DeflectScan.Cli.Display;
using DeflectScan.Records.Checking;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records verify</c>: reads every file and row.</summary>
internal static class VerifyCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Option<bool> repair = new("--repair") { Description = "Make again what follows from whole rows: lists, words, the seal." };
        Option<bool> json = new("--json") { Description = "Write the report as JSON." };
        Command command = new("verify", "Read every file and row of the archive; name each damage and what can be recovered.") { repair, json };
        ExitCodeHelp.State(command, 0, 1, 2, 10, 11, 12);
        command.SetAction(parsed =>
        {
            CheckReport report = ArchiveCheck.Run(ArchiveOption.Folder(parsed, archive), parsed.GetValue(repair));
            if (parsed.GetValue(json))
                terminal.Out.WriteLine(Json(report).ToJsonString());
            else
                Show(terminal, report);
            return report.IsClean ? ExitCode.Ok : ExitCode.ArchiveDamaged;
        });
        return command;
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

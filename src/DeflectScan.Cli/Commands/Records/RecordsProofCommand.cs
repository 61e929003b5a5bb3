using System.CommandLine;
using System.Text.Json.Nodes;
using DeflectScan.Cli.Display.Desk;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Records;
using DeflectScan.Records.Model;
using Spectre.Console;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records proof</c>: what hand readings have shown of each camera and set of cards.</summary>
internal static class RecordsProofCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Option<bool> json = new("--json") { Description = "Write them as JSON." };
        Command command = new("proof", "Sum up the proofs by hand readings for each camera and set of cards: do the stated uncertainties hold.") { json };
        ExitCodeHelp.State(command, 0, 1, 2, 10, 12);
        command.SetAction(parsed =>
        {
            using ArchiveReader reader = Archive.OpenForReading(ArchiveOption.Folder(parsed, archive));
            IReadOnlyList<ProvedSet> sets = reader.ProvedSets();
            if (parsed.GetValue(json))
                terminal.Out.WriteLine(new JsonObject { ["schema"] = "deflectscan.proved/1", ["sets"] = new JsonArray([.. sets.Select(s => (JsonNode)Json(s))]) }.ToJsonString());
            else
                Show(terminal, sets);
            return ExitCode.Ok;
        });
        return command;
    }

    private static void Show(Terminal terminal, IReadOnlyList<ProvedSet> sets)
    {
        DeskPage page = new(terminal);
        if (sets.Count == 0)
        {
            page.Line("No proofs are kept yet: deflectscan proof MEASUREMENT.json --readings FILE.csv --build BUILD keeps one.");
            return;
        }

        page.Heading("Proofs by hand", "the latest of each measurement; stated over found: 1 where uncertainties are as stated, with its 95 % interval");
        Table table = DeskTables.Make(page.Border, [("Camera", false), ("Cards", false), ("Rods", true), ("Proofs", true), ("Readings", true), ("Largest E_n", true), ("Stated over found", true), ("", false)]);
        foreach (ProvedSet s in sets)
        {
            string apart = s.Disagreeing > 0 ? $"{s.Disagreeing} contradict" : "";
            string rough = s.TooRough > 0 ? $"{s.TooRough} too rough" : "";
            DeskTables.Row(
                table,
                [
                    s.Camera, s.Cards, $"{s.Rods}", $"{s.Proofs}", $"{s.Readings}", s.Readings == 0 ? "–" : $"{s.LargestEn:0.0}",
                    s.Stated is { } stated ? $"{stated.Ratio:0.00} ({stated.Low:0.00} to {stated.High:0.00})" : "–",
                    string.Join(", ", new[] { s.Stated?.Says ?? "", apart, rough }.Where(t => t.Length > 0)),
                ]);
        }

        page.Write(table);
    }

    private static JsonObject Json(ProvedSet s) => new()
    {
        ["camera"] = s.Camera,
        ["cards"] = s.Cards,
        ["rods"] = s.Rods,
        ["proofs"] = s.Proofs,
        ["readings"] = s.Readings,
        ["largest_en"] = Math.Round(s.LargestEn, 4),
        ["chi_square"] = Math.Round(s.ChiSquare, 4),
        ["disagreeing"] = s.Disagreeing,
        ["too_rough"] = s.TooRough,
        ["stated_over_found"] = s.Stated is { } stated ? Math.Round(stated.Ratio, 4) : null,
        ["stated_over_found_low"] = s.Stated is { } low ? Math.Round(low.Low, 4) : null,
        ["stated_over_found_high"] = s.Stated is { } high ? Math.Round(high.High, 4) : null,
        ["proved"] = s.IsProved,
    };
}

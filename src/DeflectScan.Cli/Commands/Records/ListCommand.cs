using System.CommandLine;
using System.Text.Json.Nodes;
using DeflectScan.Cli.Display;
using DeflectScan.Records;
using DeflectScan.Records.Model;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records list</c>: builds, the one that was changed last first, page by page.</summary>
internal static class ListCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Option<int?> page = new("--page") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Which page. [default: 1]" };
        Option<int?> size = new("--size") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Builds on a page, 1 to 500. [default: 25]" };
        Option<bool> json = new("--json") { Description = "Write the page as JSON." };
        Option<string> units = UnitOption.Make(terminal);
        Command command = new("list", "List the builds, the one changed last first.") { page, size, json, units };
        ExitCodeHelp.State(command, 0, 1, 2, 3, 10, 12);
        command.SetAction(parsed =>
        {
            (int number, int length) = (parsed.GetValue(page) ?? 1, parsed.GetValue(size) ?? 25);
            if (number is < 1 or > 1_000_000 || length is < 1 or > 500)
                throw new UsageException("Pages count from 1 and have 1 to 500 builds.");
            using ArchiveReader reader = Archive.OpenForReading(ArchiveOption.Folder(parsed, archive));
            IReadOnlyList<BuildSummary> builds = reader.List(number, length);
            if (parsed.GetValue(json))
            {
                terminal.Out.WriteLine(new JsonObject
                {
                    ["page"] = number, ["count"] = reader.BuildCount, ["builds"] = new JsonArray([.. builds.Select(b => (JsonNode)SummaryJson.Of(b))]),
                }.ToJsonString());
                return ExitCode.Ok;
            }

            terminal.Tables().Write(BuildTables.Summaries(builds, new Figures(UnitOption.Of(parsed, units)), terminal));
            int pages = Math.Max(1, (reader.BuildCount + length - 1) / length);
            terminal.Out.WriteLine($"Page {number} of {pages}, {Counted.Of(reader.BuildCount, "build")}");
            return ExitCode.Ok;
        });
        return command;
    }
}

/// <summary>A build's line in a list as JSON.</summary>
internal static class SummaryJson
{
    public static JsonObject Of(BuildSummary b) => new()
    {
        ["id"] = b.Id,
        ["name"] = b.Name,
        ["changed_at"] = b.ChangedAt,
        ["owner"] = b.Owner,
        ["blank"] = b.Blank,
        ["blank_length_mm"] = b.BlankLengthMm,
        ["reel_class"] = b.ReelClass,
        ["line"] = b.Line,
        ["side"] = b.Side,
        ["use"] = b.Use,
        ["measurements"] = b.MeasurementCount,
        ["tip_turn_deg"] = b.TipTurnDeg,
        ["largest_gap_mm"] = b.LargestGapMm,
        ["guides"] = b.GuideCount,
    };
}

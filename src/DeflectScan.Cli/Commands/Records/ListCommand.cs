using System.CommandLine;
using System.Text.Json.Nodes;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Records;
using DeflectScan.Records.Finding;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records list</c>: builds, the one that was changed last first, page by page.</summary>
internal static class ListCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Option<int?> page = new("--page") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Which page. [default: 1]" };
        Option<int?> size = new("--size") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Builds on a page, 1 to 500. [default: 25]" };
        Option<string> sort = new("--sort") { HelpName = "changed|name|length|worst|gap|turn", Description = "What they are sorted by.", DefaultValueFactory = _ => "changed" };
        sort.AcceptOnlyFromAmong("changed", "name", "length", "worst", "gap", "turn");
        Option<string?> owner = new("--owner") { HelpName = "TEXT", Description = "Only those whose owner has this in the name." };
        Option<string?> use = new("--use") { HelpName = "TEXT", Description = "Only those for such a use." };
        Option<string?> side = new("--side") { HelpName = "inside|outside", Description = "Only those with guides on this side of the bend." };
        side.AcceptOnlyFromAmong("inside", "outside");
        Option<string?> csv = new("--csv") { HelpName = "FILE.csv", Description = "Write all of them with all their tests into one CSV file, a line a test." };
        Option<bool> json = new("--json") { Description = "Write the page as JSON." };
        Option<string> units = UnitOption.Make(terminal);
        Command command = new("list", "List the builds: sorted, filtered, or all of them as one CSV file.") { page, size, sort, owner, use, side, csv, json, units };
        Outputs outputs = new Outputs(command).With(csv, OutputFormat.Csv);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 10, 12);
        command.SetAction(parsed =>
        {
            (int number, int length) = (parsed.GetValue(page) ?? 1, parsed.GetValue(size) ?? 25);
            if (number is < 1 or > 1_000_000 || length is < 1 or > 500)
                throw new UsageException("Pages count from 1 and have 1 to 500 builds.");
            OutputFiles files = outputs.Of(parsed);
            ListQuery query = new()
            {
                Order = Enum.Parse<ListOrder>(parsed.GetValue(sort)!, ignoreCase: true), Owner = parsed.GetValue(owner), Use = parsed.GetValue(use), Side = parsed.GetValue(side),
            };
            using ArchiveReader reader = Archive.OpenForReading(ArchiveOption.Folder(parsed, archive));
            if (parsed.GetValue(csv) is { } table)
            {
                files.Write(table, AllCsv.Write(reader, query));
                terminal.Say($"Written to {Path.GetFullPath(table)}");
                return ExitCode.Ok;
            }

            IReadOnlyList<BuildSummary> builds = reader.List(number, length, query);
            int count = reader.Count(query);
            if (parsed.GetValue(json))
            {
                terminal.Out.WriteLine(new JsonObject
                {
                    ["page"] = number, ["count"] = count, ["builds"] = new JsonArray([.. builds.Select(b => (JsonNode)SummaryJson.Of(b))]),
                }.ToJsonString());
                return ExitCode.Ok;
            }

            terminal.Tables().Write(BuildTables.Summaries(builds, new Figures(UnitOption.Of(parsed, units)), terminal));
            int pages = Math.Max(1, (count + length - 1) / length);
            terminal.Out.WriteLine($"Page {number} of {pages}, {Counted.Of(count, "build")}");
            return ExitCode.Ok;
        });
        return command;
    }
}

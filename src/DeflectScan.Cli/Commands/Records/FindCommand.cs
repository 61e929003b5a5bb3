using System.CommandLine;
using System.Text.Json.Nodes;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Records;
using DeflectScan.Records.Finding;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records find</c>: the reference book. Builds by words or likeness, and a new layout from the best of them.</summary>
internal static class FindCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Argument<string?> text = new("WORDS") { Description = "Words that must occur in the build's texts, each from its beginning.", Arity = ArgumentArity.ZeroOrOne };
        Option<string?> like = new("--like") { HelpName = "BUILD", Description = "Near to this build in all that is known of it." };
        Option<double?> length = new("--length") { CustomParser = NumberText.LengthMm(500, 6000), HelpName = "LENGTH", Description = "Near to this length of the blank." };
        Option<double?> turn = new("--turn") { CustomParser = NumberText.Decimal, HelpName = "DEG", Description = "Near to this turn of the tip under the test's load." };
        Option<int?> reel = new("--reel") { CustomParser = NumberText.Whole, HelpName = "CLASS", Description = "Near to this reel class." };
        Option<string?> line = new("--line") { HelpName = "TEXT", Description = "With words of this line." };
        Option<string?> side = new("--side") { HelpName = "inside|outside", Description = "Guides on this side of the bend." };
        side.AcceptOnlyFromAmong("inside", "outside");
        Option<string?> use = new("--use") { HelpName = "TEXT", Description = "For a use like this." };
        Option<int?> limit = new("--limit") { CustomParser = NumberText.Whole, HelpName = "N", Description = "At most this many, 1 to 100. [default: 10]" };
        Option<bool> json = new("--json") { Description = "Write what is found as JSON." };
        Option<string> units = UnitOption.Make(terminal);
        Command command = new("find", "Find builds by words or likeness, ranked with the reason; with --start, begin a new layout from the best.")
        {
            text, like, length, turn, reel, line, side, use, limit, json, units,
        };
        StartFlags start = new(command);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 10, 11, 12);
        command.SetAction(parsed =>
        {
            string folder = ArchiveOption.Folder(parsed, archive);
            OutputFiles files = start.Outputs.Of(parsed);
            using ArchiveReader reader = Archive.OpenForReading(folder);
            FindQuery query = new()
            {
                Text = parsed.GetValue(text), BlankLengthMm = parsed.GetValue(length), TipTurnDeg = parsed.GetValue(turn), ReelClass = parsed.GetValue(reel),
                Line = parsed.GetValue(line), Side = parsed.GetValue(side), Use = parsed.GetValue(use), Limit = parsed.GetValue(limit) ?? 10,
            };
            if (parsed.GetValue(like) is { } known)
                query = query.Like(reader.Build(reader.Resolve(known))!);
            if (query.FirstProblem() is { } problem)
                throw new UsageException(problem);
            IReadOnlyList<FoundBuild> found = reader.Find(query);
            StartedLayout? layout = start.Start(parsed, reader, found, query.Side);
            if (parsed.GetValue(json))
                terminal.Out.WriteLine(Json(found, layout).ToJsonString());
            else
                Show(terminal, new Figures(UnitOption.Of(parsed, units)), found, layout);
            if (layout is not null)
                start.Keep(parsed, folder, layout, terminal, files);
            return ExitCode.Ok;
        });
        return command;
    }

    private static void Show(Terminal terminal, Figures figures, IReadOnlyList<FoundBuild> found, StartedLayout? layout)
    {
        if (found.Count == 0)
            terminal.Out.WriteLine("Nothing is like that: ask for less.");
        else
            terminal.Tables().Write(BuildTables.Found(found, figures, terminal));
        if (layout is null)
            return;
        terminal.Out.WriteLine($"\n{SafeText.Of(figures.InUnit(layout.Says))}");
        terminal.Tables().Write(BuildTables.Stations(layout.Stations, figures, terminal));
        terminal.Out.WriteLine("A layout to tape on and test, not a finished one: measure it, and let the measured bend say where the running guides go.");
    }

    private static JsonObject Json(IReadOnlyList<FoundBuild> found, StartedLayout? layout)
    {
        JsonObject all = new()
        {
            ["found"] = new JsonArray([.. found.Select(f => (JsonNode)new JsonObject { ["likeness"] = Math.Round(f.Likeness, 4), ["reason"] = f.Reason, ["build"] = SummaryJson.Of(f.Build) })]),
        };
        if (layout is not null)
        {
            all["start"] = new JsonObject
            {
                ["from"] = layout.From,
                ["says"] = layout.Says,
                ["guides"] = new JsonArray([.. layout.Stations.Select(s => (JsonNode)new JsonObject { ["from_tip_mm"] = s.FromTipMm, ["from_reel_mm"] = s.FromReelMm, ["ring_size_mm"] = s.RingSizeMm })]),
            };
        }

        return all;
    }
}

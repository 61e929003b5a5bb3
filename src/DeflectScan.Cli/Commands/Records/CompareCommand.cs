using System.CommandLine;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Records;
using DeflectScan.Records.Comparing;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Reporting.Plots;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records compare BUILD</c>: two measurements of a build on one axis, or all of them as a series.</summary>
internal static class CompareCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Argument<string> build = new("BUILD") { Description = "Its id, the end of its id, or its name." };
        Argument<string?> before = new("BEFORE") { Description = "The earlier measurement: end of its id, or its label. [default: the last but one]", Arity = ArgumentArity.ZeroOrOne };
        Argument<string?> after = new("AFTER") { Description = "The later one. [default: the last]", Arity = ArgumentArity.ZeroOrOne };
        Option<string?> with = new("--with") { HelpName = "OTHER", Description = "Another build: its latest measurement, or AFTER of it, is the later one." };
        Option<bool> history = new("--history") { Description = "All measurements as a series instead." };
        Option<string?> folder = new("--out") { HelpName = "DIR", Description = "Folder for before.png and after.png, in register, and gaps.png; with --history for history.png." };
        Option<bool> json = new("--json") { Description = "Write the comparison as JSON." };
        Option<string> units = UnitOption.Make(terminal);
        Command command = new("compare", "Compare two measurements of a build: guides and gaps side by side, what changed, overlays in register.") { build, before, after, with, history, folder, json, units };
        ExitCodeHelp.State(command, 0, 1, 2, 3, 10, 12);
        Outputs outputs = new Outputs(command).With(folder);
        command.SetAction(parsed =>
        {
            OutputFiles files = outputs.Of(parsed);
            Figures figures = new(UnitOption.Of(parsed, units));
            using ArchiveReader reader = Archive.OpenForReading(ArchiveOption.Folder(parsed, archive));
            Build found = reader.Build(reader.Resolve(parsed.GetValue(build)!))!;
            string? place = parsed.GetValue(folder);
            if (parsed.GetValue(history))
            {
                if (parsed.GetValue(before) is not null)
                    throw new UsageException("--history shows all measurements: leave the two names out.");
                if (!found.Counting.Any())
                    throw new ArchiveException(ArchiveProblem.Refused, "The build has no measurement yet: add a photo first.");
                ComparisonTables.ShowHistory(terminal, figures, HistorySeries.Of(found), parsed.GetValue(json));
                if (place is not null)
                    Write(terminal, files, place, [("history.png", HistoryPlot.Draw(HistorySeries.Of(found), found.Facts.Name.ReplaceLineEndings(" "), PlotFormat.Png, figures.Unit))]);
                return ExitCode.Ok;
            }

            Build other = parsed.GetValue(with) is { } reference ? reader.Build(reader.Resolve(reference))! : found;
            (StoredMeasurement b, StoredMeasurement a) = other.Id == found.Id
                ? TestChoice.Two(found, parsed.GetValue(before), parsed.GetValue(after))
                : (TestChoice.Latest(found, parsed.GetValue(before)), TestChoice.Latest(other, parsed.GetValue(after)));
            Comparison c = Comparison.Of(reader.Measurement(b), reader.Measurement(a));
            if (parsed.GetValue(json))
                terminal.Out.WriteLine(ComparisonJson.Of(c, b.Id, a.Id).ToJsonString());
            else
                Show(terminal, figures, (found, other), c, (b, a));
            if (place is not null)
                Write(terminal, files, place, ComparedPictures.Draw(reader, found.Facts.Name, c, b, a, figures.Unit));
            return ExitCode.Ok;
        });
        return command;
    }

    private static void Show(Terminal terminal, Figures figures, (Build First, Build Second) builds, Comparison c, (StoredMeasurement Before, StoredMeasurement After) tests)
    {
        if (builds.First.Id != builds.Second.Id)
            terminal.Out.WriteLine(SafeText.Of($"\"{builds.First.Facts.Name}\" and \"{builds.Second.Facts.Name}\": two builds, so what differs is the builds and not a change."));
        ComparisonTables.Show(terminal, figures, c, tests.Before, tests.After);
    }

    private static void Write(Terminal terminal, OutputFiles output, string folder, IReadOnlyList<(string Name, byte[] Bytes)> pictures)
    {
        Outputs.WriteAll(output, folder, pictures, "--out");
        terminal.Say($"Written to {Path.GetFullPath(folder)}: {string.Join(", ", pictures.Select(p => p.Name))}");
    }
}

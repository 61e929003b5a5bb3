using System.CommandLine;
using System.Globalization;
using System.Text;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Display.Desk;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Layout.Start;
using DeflectScan.Records;
using DeflectScan.Records.Keeping;
using DeflectScan.Reporting.Json;
using DeflectScan.Writing;
using Spectre.Console;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary><c>deflectscan testcast</c>: what was seen and heard in test casts, kept, and the next move.</summary>
internal static class TestCastCommand
{
    private static readonly string[] Observations = [.. Enum.GetValues<CastObservation>().Select(CastNotesJson.Spell)];

    public static Command Make(Terminal terminal)
    {
        Argument<string?> file = new("NOTES.json") { Description = "The build's notes; made where there are none yet. Or --build, for a build in the archive.", Arity = ArgumentArity.ZeroOrOne };
        Option<string?> build = new("--build") { HelpName = "BUILD", Description = "Keep it with this build of the archive, as a note of kind test-cast." };
        Option<string?> archive = ArchiveOption.Make();
        Option<string?> seen = new("--seen") { HelpName = "WHAT", Description = $"What was seen or heard: {string.Join(", ", Observations)}." };
        seen.AcceptOnlyFromAmong(Observations);
        Option<double?> first = DeskInput.Length("--first-guide", "LENGTH", 100, 3000, "Where the first guide stood, from the reel's front.");
        Option<string?> remark = new("--remark") { HelpName = "TEXT", Description = "Anything worth keeping with it." };
        Option<string?> title = new("--title") { HelpName = "NAME", Description = "Name of the build, for new notes." };
        Option<bool> json = new("--json") { Description = "Write one JSON object to standard output, and nothing else." };
        Option<string> units = UnitOption.Make(terminal);
        Command command = new("testcast", "Note a test cast with the build and say the next move of a guide, with its reason and size.") { file, build, archive, seen, first, remark, title, json, units };
        Outputs outputs = new Outputs(command).WithUpdated(file, OutputFormat.Json);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 10, 11, 12, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                (string? path, string? reference) = (parsed.GetValue(file), parsed.GetValue(build));
                if ((path is null) == (reference is null))
                    throw new UsageException("Give a notes file, or a build of the archive with --build.");
                OutputFiles files = outputs.Of(parsed);
                string folder = ArchiveOption.Folder(parsed, archive);
                CastNotes notes = reference is null ? InFile(path!, parsed.GetValue(title)) : OfBuild(folder, reference);
                if (parsed.GetValue(seen) is { } what)
                {
                    double? distance = parsed.GetValue(first) ?? notes.Casts.LastOrDefault()?.FirstGuideFromReelMm;
                    if (parsed.GetValue(first) is null && what != CastNotesJson.Spell(CastObservation.RunsWell))
                        throw new UsageException("Say where the first guide stood in that cast, from the reel's front, with --first-guide.");
                    if (distance is <= 0 or >= 5000)
                        throw new UsageException("The first guide's distance from the reel must be from 1 to 5000 mm.");
                    CastObservation observation = Enum.GetValues<CastObservation>().First(o => CastNotesJson.Spell(o) == what);
                    KeptCast cast = new(observation, distance, DateOnly.FromDateTime(DateTime.Now), parsed.GetValue(remark));
                    notes = notes with { Casts = [.. notes.Casts, cast] };
                    if (reference is null)
                        files.Write(path!, Encoding.UTF8.GetBytes(CastNotesJson.Write(notes)), updates: true);
                    else
                        Keep(folder, reference, cast);
                }

                if (notes.Casts.Count == 0)
                    throw new UsageException("There are no notes yet: say what was seen with --seen and where the first guide stood with --first-guide.");
                TestCastMove move = TestCast.Next([.. notes.Casts.Select(c => c.Seen)]);
                if (parsed.GetValue(json))
                    terminal.Out.Write(DeskJson.Write(TestCastReport.Of(notes, move)));
                else
                    Show(new DeskPage(terminal, UnitOption.Of(parsed, units)), notes, move, new Figures(UnitOption.Of(parsed, units)));
                return ExitCode.Ok;
            },
            cancel));
        return command;
    }

    private static CastNotes InFile(string path, string? title) => File.Exists(path)
        ? RefusedException.Unless(DocumentFile.Read(path, CastNotesJson.Read))
        : new CastNotes(title ?? Path.GetFileNameWithoutExtension(path), []);

    private static CastNotes OfBuild(string folder, string build)
    {
        using ArchiveReader reader = Archive.OpenForReading(folder);
        return CastKeeping.Of(reader, build);
    }

    private static void Keep(string folder, string build, KeptCast cast)
    {
        using ArchiveWriter writer = Archive.OpenForWriting(folder);
        CastKeeping.Add(writer, build, cast);
    }

    private static void Show(DeskPage page, CastNotes notes, TestCastMove move, Figures figures)
    {
        page.Title($"{notes.Title}: test casts");
        Table table = DeskTables.Make(page.Border, [("Date", false), ($"First guide from reel {figures.UnitName}", true), ("Seen or heard", false), ("Remark", false)]);
        foreach (KeptCast c in notes.Casts)
        {
            DeskTables.Row(
                table,
                [
                    c.Date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), figures.Bare(c.FirstGuideFromReelMm) ?? "–", CastNotesJson.Spell(c.Seen).Replace('-', ' '),
                    SafeText.Of(c.Remark ?? ""),
                ]);
        }

        page.Write(table);
        if (move.Guide is { } guide)
        {
            double size = Math.Abs(move.TowardTipMm);
            string to = guide == 1 ? $", to {figures.Full(notes.Casts[^1].FirstGuideFromReelMm!.Value + move.TowardTipMm)} from the reel" : "";
            page.Strong($"Next: move guide {guide} by {figures.Full(size)} towards the {(move.TowardTipMm > 0 ? "tip" : "reel")}{to}.");
        }

        page.Sentence($"{move.Reason} ({(move.Basis == Grounds.CommonPractice ? "common practice, no source; the size of the step is our own judgement" : "our own judgement")})");
    }
}

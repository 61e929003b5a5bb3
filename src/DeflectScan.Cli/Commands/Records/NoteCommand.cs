using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Records;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records note BUILD</c>: a note, a test cast or a remark; a layout that is considered; the layout that is chosen.</summary>
internal static class NoteCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Argument<string> build = new("BUILD") { Description = "Its id, the end of its id, or its name." };
        Argument<string?> text = new("TEXT") { Description = "The note.", Arity = ArgumentArity.ZeroOrOne };
        Option<string> kind = new("--kind") { HelpName = "note|test-cast|remark", Description = "What kind of note.", DefaultValueFactory = _ => "note" };
        kind.AcceptOnlyFromAmong("note", "test-cast", "remark");
        Option<string?> layout = new("--layout") { HelpName = "NAME", Description = "Keep a layout that is considered, under this name." };
        Option<bool> suggested = new("--suggested") { Description = "The layout is what the latest measurement suggests." };
        Option<bool> measured = new("--measured") { Description = "The layout is the guides as last measured." };
        Option<string?> file = new("--file") { HelpName = "LAYOUT.json", Description = "The layout is in a file that spacing, whatif, carry, plan or find --start wrote with --save." };
        Option<string?> choose = new("--choose") { HelpName = "NAME", Description = "Choose one of the build's layouts." };
        Command command = new("note", "Add a note, a test cast or a considered layout to a build, or choose a layout.") { build, text, kind, layout, suggested, measured, file, choose };
        ExitCodeHelp.State(command, 0, 1, 2, 3, 10, 11, 12);
        command.SetAction(parsed =>
        {
            string? name = parsed.GetValue(layout);
            int sources = (parsed.GetValue(suggested) ? 1 : 0) + (parsed.GetValue(measured) ? 1 : 0) + (parsed.GetValue(file) is null ? 0 : 1);
            if (parsed.GetValue(text) is null && name is null && parsed.GetValue(choose) is null)
                throw new UsageException("Give a text, --layout or --choose.");
            if ((name is null && sources > 0) || (name is not null && sources != 1))
                throw new UsageException("--layout NAME goes with one of --suggested, --measured and --file.");
            SheetLayout? kept = parsed.GetValue(file) is { } path ? ReadLayout(path) : null;
            using ArchiveWriter writer = Archive.OpenForWriting(ArchiveOption.Folder(parsed, archive));
            string id = writer.Reader.Resolve(parsed.GetValue(build)!);
            writer.AsOne(() =>
            {
                if (parsed.GetValue(text) is { } note)
                    writer.AddNote(id, parsed.GetValue(kind) switch { "test-cast" => NoteKind.TestCast, "remark" => NoteKind.Remark, _ => NoteKind.Note }, note);
                if (name is not null)
                    _ = kept is not null ? LayoutKeeping.Add(writer, id, name, kept) : LayoutKeeping.Add(writer, id, name, parsed.GetValue(suggested) ? LayoutSource.Suggested : LayoutSource.Measured);
                if (parsed.GetValue(choose) is { } chosen)
                    LayoutKeeping.Choose(writer, id, chosen);
                return true;
            });
            terminal.Out.WriteLine(SafeText.Of($"Kept with \"{writer.Reader.Build(id)!.Facts.Name}\"."));
            return ExitCode.Ok;
        });
        return command;
    }

    private static SheetLayout ReadLayout(string path) => UsageException.Unless(DocumentFile.Read(path, LayoutJson.Read));
}

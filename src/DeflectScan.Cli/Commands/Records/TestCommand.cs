using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Records;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;

namespace DeflectScan.Cli.Commands.Records;

/// <summary><c>deflectscan records test BUILD TEST</c>: a test that is wrong is set aside, one of another build is moved there. Nothing is lost.</summary>
internal static class TestCommand
{
    public static Command Make(Option<string?> archive, Terminal terminal)
    {
        Argument<string> build = new("BUILD") { Description = "Its id, the end of its id, or its name." };
        Argument<string> test = new("TEST") { Description = "The measurement: its label or the end of its id." };
        Option<string?> aside = new("--set-aside") { HelpName = "WHY", Description = "It is wrong: kept and marked, and left out of comparisons, histories and lists." };
        Option<bool> again = new("--count-again") { Description = "It counts again." };
        Option<string?> move = new("--move-to") { HelpName = "BUILD", Description = "It is of this other build." };
        Command command = new("test", "Set a test aside as wrong, let it count again, or move it to its right build; nothing is ever deleted.") { build, test, aside, again, move };
        ExitCodeHelp.State(command, 0, 1, 2, 3, 10, 11, 12);
        command.SetAction(parsed =>
        {
            (string? why, bool counts, string? target) = (parsed.GetValue(aside), parsed.GetValue(again), parsed.GetValue(move));
            if ((why is null ? 0 : 1) + (counts ? 1 : 0) + (target is null ? 0 : 1) != 1)
                throw new UsageException("Give one of --set-aside WHY, --count-again and --move-to BUILD.");
            using ArchiveWriter writer = Archive.OpenForWriting(ArchiveOption.Folder(parsed, archive));
            Build known = writer.Reader.Build(writer.Reader.Resolve(parsed.GetValue(build)!))!;
            StoredMeasurement meant = TestChoice.Named(known, parsed.GetValue(test)!);
            string done;
            if (why is not null)
            {
                writer.SetAside(known.Id, meant.Id, why.Length == 0 ? null : why);
                done = "It is set aside: kept, and left out of comparisons.";
            }
            else if (counts)
            {
                writer.CountAgain(known.Id, meant.Id);
                done = "It counts again.";
            }
            else
            {
                string to = writer.Reader.Resolve(target!);
                if (to == known.Id)
                    throw new UsageException("It is with that build already.");
                writer.MoveMeasurement(known.Id, meant.Id, to);
                done = $"It is now with \"{writer.Reader.Build(to)!.Facts.Name}\".";
            }

            terminal.Out.WriteLine(SafeText.Of(done));
            return ExitCode.Ok;
        });
        return command;
    }
}

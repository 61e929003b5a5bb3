using System.CommandLine;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Web.Measuring;

namespace DeflectScan.Cli.Commands;

/// <summary><c>deflectscan classes</c>: the classes that were held on the page, and taking one away wholly.</summary>
internal static class ClassesCommand
{
    public static Command Make(Terminal terminal)
    {
        Option<string?> archive = ArchiveOption.Make();
        Command command = new("classes", "List the classes that were held on the page, or delete one with its photos.") { archive };
        command.Add(List(terminal, archive));
        command.Add(Delete(terminal, archive));
        ExitCodeHelp.State(command, 0, 1, 2, 3, 10, 11, 130);
        return command;
    }

    private static Command List(Terminal terminal, Option<string?> archive)
    {
        Command list = new("list", "List the classes: their ids, names, students and photos.");
        ExitCodeHelp.State(list, 0, 1, 2, 10, 130);
        list.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                foreach (ListedClass c in ClassArchive.List(ArchiveOption.Folder(parsed, archive)))
                    terminal.Out.WriteLine(SafeText.Of($"{c.Id}  {c.MadeAt:yyyy-MM-dd}  {c.Title}: {Counted.Of(c.Students, "student")}, {Counted.Of(c.Photos, "photo")}"));
                return ExitCode.Ok;
            },
            cancel));
        return list;
    }

    private static Command Delete(Terminal terminal, Option<string?> archive)
    {
        Argument<string> id = new("CLASS") { Description = "The class's id, as classes list has it." };
        Option<bool> yes = new("--yes") { Description = "Delete it; without this only what would go is said." };
        Command delete = new("delete", "Delete a class wholly: names, photos and what was measured of them. End deflectscan serve first.") { id, yes };
        ExitCodeHelp.State(delete, 0, 1, 2, 3, 10, 11, 130);
        delete.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                if (ClassArchive.Take(ArchiveOption.Folder(parsed, archive), parsed.GetValue(id)!, parsed.GetValue(yes)) is not { } goes)
                    throw new UsageException("There is no such class in this archive: deflectscan classes list names them.");
                terminal.Out.WriteLine(SafeText.Of($"{(parsed.GetValue(yes) ? "Deleted" : "Would go")}: {goes}"));
                if (!parsed.GetValue(yes))
                    terminal.Say("Nothing was deleted: add --yes to delete it.");
                return ExitCode.Ok;
            },
            cancel));
        return delete;
    }
}

using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Teaching;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands;

/// <summary><c>deflectscan class FOLDER</c>: students' photos in, a board and a sheet each out.</summary>
internal sealed class ClassCommand
{
    private readonly Argument<string?> _folder = new("FOLDER") { Description = "A photo a student, named after the student, or a folder each with one photo or more.", Arity = ArgumentArity.ZeroOrOne };
    private readonly Option<bool> _demo = new("--demo") { Description = "A class of invented names from testimages of this program's checkout." };
    private readonly Option<string> _out = new("--out") { HelpName = "DIR", Description = "Folder for board.html, board.pdf, board.png, class.csv, class.json and sheets/.", Required = true };
    private readonly Option<string?> _names = new("--names") { HelpName = "FILE.csv", Description = "Files and names: a line each with a comma between." };
    private readonly Option<string?> _target = new("--target-bow") { HelpName = "LENGTH|best", Description = "Largest running bow that you ask for, as 5mm; best: what so many guides can do on each blank." };
    private readonly Option<string> _sort = new("--sort") { HelpName = "bow|gap|clearance|guides|best|name|given", Description = "By what the rods are sorted.", DefaultValueFactory = _ => "bow" };
    private readonly Option<bool> _hide = new("--no-names") { Description = "Numbers in place of names everywhere, in files' names, too." };
    private readonly Option<bool> _same = new("--same-blank") { Description = "All rods have the same blank: show the mean layout and how far the students differ." };
    private readonly Option<string?> _reference = new("--reference") { HelpName = "PHOTO", Description = "Your own rod: shown faintly on every strip." };
    private readonly Option<string?> _title = new("--title") { HelpName = "NAME", Description = "What the board is called. [default: the folder's name]" };
    private readonly Option<string> _paper = new("--paper") { HelpName = "a4|letter", Description = "Paper of the sheets; the board takes twice as much.", DefaultValueFactory = _ => "a4" };
    private readonly Command _command;
    private readonly MeasureFlags _flags;
    private readonly Outputs _outputs;

    private ClassCommand(Engine engine, Terminal terminal)
    {
        _command = new Command("class", "Measure a class: every student's photo, a board of all rods side by side, and a feedback sheet each.")
        {
            _folder, _demo, _out, _names, _target, _sort, _hide, _same, _reference, _title, _paper,
        };
        _sort.AcceptOnlyFromAmong("bow", "gap", "clearance", "guides", "best", "name", "given");
        _paper.AcceptOnlyFromAmong("a4", "letter");
        _flags = new MeasureFlags(_command, terminal);
        _outputs = new Outputs(_command).With(_out);
        ExitCodeHelp.State(_command, 0, 1, 2, 3, 4, 130);
        _command.SetAction((parsed, cancel) => Task.Run(() => Run(parsed, engine, terminal, cancel), cancel));
    }

    public static Command Make(Engine engine, Terminal terminal) => new ClassCommand(engine, terminal)._command;

    private int Run(ParseResult parsed, Engine engine, Terminal terminal, CancellationToken cancel)
    {
        MeasureOptions measuring = _flags.Read(parsed);
        if (!measuring.Marks.IsEmpty || measuring.AtRest)
            throw new UsageException("--marks and --at-rest belong to one photo: leave them out for a class.");
        (IReadOnlyList<HandedIn> students, string title, string? reference) = Given(parsed);
        ClassOptions options = Options(parsed, title);
        OutputFiles files = _outputs.Of(parsed, students.SelectMany(s => s.Photos).Append(reference));
        ClassRun run = new(engine, terminal, measuring, new ManyOptions());
        return run.Run(students, reference, options, new ClassRun.Place(parsed.GetValue(_out)!, files, parsed.GetValue(_paper) == "letter" ? SheetPaper.Letter : SheetPaper.A4), cancel);
    }

    private (IReadOnlyList<HandedIn> Students, string Title, string? Reference) Given(ParseResult parsed)
    {
        string? own = parsed.GetValue(_reference) is { } photo ? InputFile.MustBeThere(photo) : null;
        if (parsed.GetValue(_demo))
        {
            string images = TestImages() ?? throw new UsageException("The demo's photos are not here: run it in a checkout of the program, where testimages is.");
            return (DemoClass.In(images)!, parsed.GetValue(_title) ?? "Demo class", own ?? DemoClass.Photo(images, DemoClass.Reference));
        }

        string folder = parsed.GetValue(_folder) ?? throw new UsageException("Give the folder with the students' photos, or --demo.");
        if (!Directory.Exists(InputFile.MustBeThere(folder)))
            throw new UsageException("A class is a folder of photos: give the folder, or measure the one photo with deflectscan measure.");
        IReadOnlyList<(string, string)> names = parsed.GetValue(_names) is { } list ? UsageException.Unless(NameList.Read(Text(InputFile.MustBeThere(list)))) : [];
        return (UsageException.Unless(ClassFolder.Read(folder, names)), parsed.GetValue(_title) ?? Path.GetFileName(Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder))), own);
    }

    private ClassOptions Options(ParseResult parsed, string title)
    {
        string? target = parsed.GetValue(_target);
        double? bow = null;
        if (target is not null and not "best")
        {
            bow = LengthText.TryMm(target, _flags.Unit(parsed), out double mm) ? mm : throw new UsageException($"'{target}' is no target: write a bow as in 5mm, or best.");
        }

        ClassOptions options = new()
        {
            Title = title,
            TargetBowMm = bow,
            TargetIsBest = target == "best",
            HideNames = parsed.GetValue(_hide),
            IsSameBlank = parsed.GetValue(_same),
            Order = Enum.Parse<ClassOrder>(parsed.GetValue(_sort)!, ignoreCase: true),
        };
        return options.FirstProblem() is { } problem ? throw new UsageException(problem) : options;
    }

    private static string Text(string path)
    {
        try
        {
            return File.ReadAllText(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UsageException("The list of names cannot be read: check the file given with --names.");
        }
    }

    /// <summary>The checkout's photos: in this folder or one above, or above the program.</summary>
    private static string? TestImages()
    {
        foreach (string start in new[] { Environment.CurrentDirectory, AppContext.BaseDirectory })
        {
            for (string? at = start; at is not null; at = Path.GetDirectoryName(at))
            {
                if (DemoClass.In(Path.Combine(at, "testimages")) is not null)
                    return Path.Combine(at, "testimages");
            }
        }

        return null;
    }
}

using System.Text;
using System.Text.RegularExpressions;
using DeflectScan.Cli.Running;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Tests;

/// <summary>
/// Every command once, in one process, on one photo: it is measured and checked in earnest once, and whatever measures later is given the same figures.
/// What is said is gathered a page for each command; where files lie, ids, dates and sizes on the disk are put in words.
/// </summary>
internal sealed partial class PrintedRun : IDisposable
{
    /// <summary>What is run, one after the other. PHOTO is the photo, DIR an empty folder, DOC the document of the first one.</summary>
    private const string Commands = """
        measure PHOTO --budget
        check PHOTO
        measure PHOTO PHOTO2 --csv DIR/many.csv --out DIR/many
        measure PHOTO PHOTO2 --repeat
        measure DIR/missing.jpg
        whatif DOC --suggested
        whatif DOC --move 5=+10mm --add 512mm --units in
        whatif DOC --remove 99
        spacing DOC --guides 8
        spacing DOC --largest-bow 5mm --plot DIR/plot.svg --save DIR/spacing.json
        rings DOC --pull 10N
        bend DOC --at 0.5x,1x,1.5x
        blank DOC --stiffness
        carry DOC --reel-to-tip 1500mm --from-reel 530mm --save DIR/carry.json
        carry DOC --onto DOC
        plan --rod-length 1980mm --reel-at 400mm --save DIR/plan.json
        plan --rod-length 6ft --reel-at 15in --rod casting --running bow --units in
        testcast DIR/notes.json --seen coils-bunch-seen --first-guide 500mm --title One
        sheet DIR/spacing.json --out DIR/sheet.pdf
        tape DOC --out DIR/tape.pdf
        proof DOC --station 4=632.4mm±1 --gap 3-4=14.4mm±0.2
        proof sheet DOC --out DIR/proof.pdf
        proof bundle DOC --station 4=632.4mm±1 --photo PHOTO --yes --out DIR/proof.zip
        class DIR/class --out DIR/board
        classes list --archive DIR/one
        card --letter A --out DIR/card.pdf
        settings
        completion bash
        demo --out DIR/demo
        records init --archive DIR/one
        records add PHOTO --name One --use perch --owner Ann --label first --archive DIR/one
        records add PHOTO --build One --label second --hold 2 --archive DIR/one
        records add --name Two --length 2134mm --archive DIR/one
        records note One "first cast" --kind remark --archive DIR/one
        records note One --layout kept --measured --choose kept --archive DIR/one
        records list --archive DIR/one
        records find perch --archive DIR/one
        records show One --archive DIR/one
        records compare One --archive DIR/one
        records compare One --history --archive DIR/one
        records test One second --set-aside "not clamped" --archive DIR/one
        records test One second --count-again --archive DIR/one
        records proof --archive DIR/one
        records export DIR/one.zip --archive DIR/one
        records init --archive DIR/two
        records import DIR/one.zip --archive DIR/two
        records verify --archive DIR/one
        """;

    private readonly TempFolder _folder = new();
    private readonly string _photo = Repository.Photo("clean-spinning");
    private Measurement? _measured;

    private string Document => _folder["measurement.json"];

    /// <summary>The commands that are run, and one page with the help of all.</summary>
    public static IReadOnlyList<string> Pages { get; } = [.. Lines(Commands).Select(c => c.Split(' ')[0]).Distinct(StringComparer.Ordinal), "help"];

    /// <summary>Everything that is said, by page.</summary>
    public IReadOnlyDictionary<string, string> Run()
    {
        Directory.CreateDirectory(Path.Combine(_folder["class"], "Ann"));
        File.Copy(_photo, Path.Combine(_folder["class"], "Ann", "photo.jpg"));
        File.Copy(_photo, _folder["second.jpg"]);
        Dictionary<string, StringBuilder> pages = Pages.ToDictionary(p => p, _ => new StringBuilder(), StringComparer.Ordinal);
        foreach (string command in Lines(Commands))
            Add(pages[command.Split(' ')[0]], command);
        foreach (string command in Pages.SkipLast(1).Prepend("").Append("serve").Append("lens"))
            Add(pages["help"], $"{command} --help".TrimStart());
        return pages.ToDictionary(p => p.Key, p => p.Value.ToString(), StringComparer.Ordinal);
    }

    public void Dispose() => _folder.Dispose();

    private void Add(StringBuilder page, string command)
    {
        using StringWriter output = new() { NewLine = "\n" };
        using StringWriter error = new() { NewLine = "\n" };
        Terminal terminal = new(output, error, false, false, false, Terminal.PipedWidth) { Settings = Settings.Default, SettingsFile = _folder["settings.json"] };
        int code = CliApp.Run([.. Words().Matches(command).Select(m => Told(m.Value.Trim('"')))], Engine(), terminal);
        page.Append($"$ deflectscan {command}\n{Tidy(output.ToString())}");
        foreach (string line in Tidy(error.ToString()).TrimEnd('\n').Split('\n').Where(l => l.Length > 0))
            page.Append($"! {line}\n");
        page.Append($"= {code}\n\n");
    }

    private string Told(string word) => word switch
    {
        "PHOTO" => _photo,
        "PHOTO2" => _folder["second.jpg"],
        "DOC" => Document,
        _ => word.Replace("DIR", _folder.Path, StringComparison.Ordinal),
    };

    /// <summary>The real engine, which measures once.</summary>
    private Engine Engine()
    {
        Engine live = LiveEngine.Make();
        return live with
        {
            Measure = (path, options, progress, cancel) =>
            {
                if (_measured is null || !File.Exists(path))
                {
                    MeasuredPhoto first = live.Measure(path, options, progress, cancel);
                    _measured = first.Measurement;
                    File.WriteAllText(Document, MeasurementJson.Write(_measured));
                    return first;
                }

                return new MeasuredPhoto(_measured, null, null, null);
            },
        };
    }

    private string Tidy(string said)
    {
        string text = said.Replace(_folder.Path, "DIR", StringComparison.Ordinal).Replace(_photo, "PHOTO", StringComparison.Ordinal);
        text = Id().Replace(text, "ID");
        text = Version().Replace(text, "VERSION");
        text = ShortId().Replace(text, "SHORT-ID");
        text = Date().Replace(text, "DATE");
        text = Bytes().Replace(text, "SOME MB");
        return string.Concat(text.Split('\n').Select(l => l.TrimEnd() + "\n"))[..^1];
    }

    private static string[] Lines(string text) => text.ReplaceLineEndings("\n").Split('\n');

    [GeneratedRegex("\"[^\"]*\"|\\S+", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Words();

    [GeneratedRegex("[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Id();

    /// <summary>A program built where there is no git says no commit.</summary>
    [GeneratedRegex(@"(?<![.\d])\d+\.\d+\.\d+(\+[0-9a-f]+)?(?![.\w])", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Version();

    [GeneratedRegex(@"\b(?=[0-9a-f]*[a-f])(?=[0-9a-f]*\d)[0-9a-f]{8}\b|\b\d{8}\b", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex ShortId();

    [GeneratedRegex(@"\d{4}-\d\d-\d\d( \d\d:\d\d(:\d\d)?)?", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Date();

    [GeneratedRegex(@"\d+\.\d MB", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Bytes();
}

using System.Diagnostics;
using System.Text.RegularExpressions;
using DeflectScan.Cli.Running;
using DeflectScan.Scenes;
using UglyToad.PdfPig;

namespace DeflectScan.Cli.Tests;

/// <summary>
/// The published program is machine code without a run time, and has no more reflection than the linker kept. It must say and write the same as the
/// build that all other tests run: every photo's document, and every command.
/// </summary>
public sealed partial class PublishedProgramTests : IDisposable
{
    private readonly TempFolder _folder = new();

    private static string Built => Path.Combine(AppContext.BaseDirectory, "deflectscan");

    /// <summary>What is run one after the other in an empty folder; {} is where the test photos lie.</summary>
    private const string Commands = """
        --version
        --help
        measure {}/clean-spinning/photo.jpg --out clean
        measure {}/loads-deep/photo.jpg --out deep
        measure {}/loads-light/photo.jpg {}/loads-mid/photo.jpg --repeat --out repeat
        measure {}/clean-spinning/photo.jpg {}/bad-no-card/photo.jpg --json --csv many.csv --out many
        class {}/loads-deep --out class --target-bow best
        classes list --archive none
        check {}/wall-shadow/photo.jpg --json
        check {}/bad-no-card/photo.jpg
        card --letter C --out c.svg
        card --letter C --out c.png
        card --letter C --out c.pdf
        lens {}/opencv/left01.jpg {}/opencv/left02.jpg {}/opencv/left03.jpg {}/opencv/left04.jpg {}/opencv/left05.jpg {}/opencv/left06.jpg {}/opencv/left07.jpg {}/opencv/left08.jpg {}/opencv/left09.jpg {}/opencv/left11.jpg --board 9x6 --out lens.json --json
        measure {}/clean-spinning/photo.jpg --json --lens lens.json
        whatif clean/measurement.json --move 5=+10mm --json --overlay whatif.png --photo {}/clean-spinning/photo.jpg --save whatif.json
        whatif clean/measurement.json --add 512mm
        spacing clean/measurement.json --guides 8 --json --save spacing.json
        rings clean/measurement.json --json
        plan --rod-length 1980mm --reel-at 400mm --json --save plan.json
        plan --rod-length 1980mm --reel-at 400mm --rod casting
        testcast notes.json --seen coils-bunch-seen --first-guide 500mm --json --title One
        testcast notes.json
        carry clean/measurement.json --reel-to-tip 1500mm --from-reel 400mm --json --save carry.json
        sheet whatif.json --out sheet.pdf
        tape spacing.json --out tape.pdf
        bend clean/measurement.json --at 0.5x,1x,1.5x --json --picture bend.pdf
        blank clean/measurement.json --json --plot blank.svg
        blank clean/measurement.json deep/measurement.json --stiffness
        settings units in
        settings
        completion bash
        measure photo.heic
        measure missing.jpg
        measure {}/clean-spinning/photo.jpg --lens whatif.json
        records init --archive one
        records add {}/clean-spinning/photo.jpg --name One --archive one
        records list --csv list.csv --archive one
        records find one --archive one
        records export export.zip --archive one
        records init --archive two
        records import export.zip --archive two
        records list --archive two
        records verify --archive two
        """;

    public void Dispose() => _folder.Dispose();

    [Fact]
    [Trait("Set", "long")]
    public void ItSaysTheSameAsTheBuild()
    {
        string published = Publish();
        string[] photos = [.. Directory.GetFiles(Repository.TestImages, "photo.jpg", SearchOption.AllDirectories).Order(StringComparer.Ordinal)];
        Assert.True(photos.Length > 10);
        string[][] all = [.. photos.Select(p => new[] { "measure", p, "--json" }), .. Commands.Split('\n').Select(l => l.Trim().Split(' ').Select(w => w.Replace("{}", Repository.TestImages, StringComparison.Ordinal)).ToArray())];
        string[] before = [.. all.Select(c => Run(Built, "built", c))];
        Assert.Contains(before, s => s.Contains("\"taken_at\": \"2026", StringComparison.Ordinal)); // the EXIF was read
        Assert.All(all.Zip(before), c => Assert.Equal(c.Second, Run(published, "published", c.First)));
        string[] files = Files("built");
        Assert.Equal(files, Files("published"));
        Assert.True(files.Length > 20, string.Join('\n', files));
        Assert.All(files.Where(HoldsNoTime), f => Assert.True(File.ReadAllBytes(_folder[$"built/{f}"]).SequenceEqual(File.ReadAllBytes(_folder[$"published/{f}"])), f));
        Assert.All(files.Where(f => Path.GetExtension(f) == ".pdf"), f => Assert.Equal(Words($"built/{f}"), Words($"published/{f}")));
    }

    private string[] Words(string pdf)
    {
        using PdfDocument document = PdfDocument.Open(_folder[pdf]);
        return [.. document.GetPages().Select(p => p.Text)];
    }

    /// <summary>PDFs carry the time of their making, archives the builds' ids too.</summary>
    private static bool HoldsNoTime(string file) => Path.GetExtension(file) is ".json" or ".png" or ".svg" or ".csv" && !file.StartsWith("list", StringComparison.Ordinal);

    private string[] Files(string where) =>
        [.. Directory.GetFiles(_folder[where], "*", SearchOption.AllDirectories).Select(f => Id().Replace(Path.GetRelativePath(_folder[where], f), "ID")).Order(StringComparer.Ordinal)];

    private string Publish()
    {
        string program = _folder["program"];
        (int code, string said) = Start("dotnet", Repository.Root, ["publish", Path.Combine(Repository.Root, "src", "DeflectScan.Cli"), "-c", "Release", "-o", program, "-v", "q", "--nologo"]);
        Assert.True(code == 0, said);
        return Path.Combine(program, "deflectscan");
    }

    private string Run(string program, string where, string[] arguments)
    {
        string folder = Directory.CreateDirectory(_folder[where]).FullName;
        File.WriteAllBytes(Path.Combine(folder, "photo.heic"), [0, 0, 0, 24, .. "ftypheic"u8, 0, 0, 0, 0, .. "mif1heic"u8, .. new byte[4000]]);
        (int code, string said) = Start(program, folder, arguments);
        return Id().Replace($"{string.Join(' ', arguments)}: {code}\n{said}", "ID").Replace(folder, "", StringComparison.Ordinal);
    }

    private static (int Code, string Said) Start(string program, string folder, IEnumerable<string> arguments)
    {
        ProcessStartInfo start = new(program, arguments) { WorkingDirectory = folder, UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["XDG_CONFIG_HOME"] = folder;
        using Process process = Process.Start(start)!;
        Task<string> error = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, output + error.Result);
    }

    [GeneratedRegex(@"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}|\b[0-9a-f]{8}\b", RegexOptions.None, 1000)]
    private static partial Regex Id();
}

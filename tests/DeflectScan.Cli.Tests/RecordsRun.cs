using System.Security.Cryptography;
using DeflectScan.Scenes.Samples;

namespace DeflectScan.Cli.Tests;

/// <summary>The commands of records over the archive in a folder, with a made-up measurement for every photo.</summary>
internal static class RecordsRun
{
    private const string Text = "a file that stands for a photo";

    /// <summary>A file that stands for a photo, with bytes of its own where a number is given.</summary>
    public static string Photo(TempFolder folder, string name, int? number = null, int bytes = 60_000)
    {
        if (number is not { } seed)
            return folder.File(name, Text);
        byte[] content = new byte[bytes];
        new Random(seed).NextBytes(content);
        (content[0], content[1], content[2]) = (0xFF, 0xD8, 0xFF);
        File.WriteAllBytes(folder[name], content);
        return folder[name];
    }

    public static (int Code, string Out, string Error) Run(TempFolder folder, params string[] args) => Run(folder, Of(SampleMeasurement.Ok, args), args);

    public static (int Code, string Out, string Error) Run(TempFolder folder, Measurement measurement, params string[] args)
    {
        FakeRun run = new() { Measurement = measurement };
        int code = run.Run(["records", .. args, "--archive", folder["archive"]]);
        return (code, run.Out, string.Join('\n', run.Error.Split('\n').Where(l => l != "Opening the photo")));
    }

    /// <summary>A measurement that says it was made from the photo among the arguments, as one of that file would.</summary>
    public static Measurement Of(Measurement m, params string[] args) => m with { Photo = m.Photo! with { Sha256 = Hash(args.FirstOrDefault(a => a.EndsWith(".jpg", StringComparison.Ordinal) && File.Exists(a))) } };

    /// <summary>An archive with some builds, a photo, a note and a layout each.</summary>
    public static void Fill(TempFolder folder, int builds)
    {
        Assert.Equal(0, Run(folder, "init").Code);
        for (int i = 1; i <= builds; i++)
        {
            Assert.Equal(0, Run(folder, "add", Photo(folder, $"{i}.jpg", i), "--name", $"Build {i}", "--use", "perch", "--remarks", new string('x', 2000)).Code);
            Assert.Equal(0, Run(folder, "note", $"Build {i}", "a note", "--layout", "as it is", "--measured", "--choose", "as it is").Code);
        }
    }

    /// <summary>The code of a run that said one plain sentence on standard error and nothing else.</summary>
    public static int OneLine((int Code, string Out, string Error) run)
    {
        Assert.Equal("", run.Out);
        Assert.True(run.Error.Count(c => c == '\n') == 1, run.Error);
        Assert.DoesNotContain("System.", run.Error, StringComparison.Ordinal);
        return run.Code;
    }

    private static string Hash(string? photo) => Convert.ToHexStringLower(SHA256.HashData(photo is null ? System.Text.Encoding.UTF8.GetBytes(Text) : File.ReadAllBytes(photo)));
}

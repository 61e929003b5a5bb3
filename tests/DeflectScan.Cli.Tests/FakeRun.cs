using DeflectScan.Checking;
using DeflectScan.Cli.Running;
using DeflectScan.Scenes.Samples;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Tests;

/// <summary>The command line with a made-up engine behind it, its outputs caught.</summary>
internal sealed class FakeRun
{
    /// <summary>A PNG of one grey pixel, which stands for every picture.</summary>
    public static byte[] Picture { get; } = Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==");

    /// <summary>What is drawn of a photo.</summary>
    public byte[] Drawn { get; set; } = Picture;

    public Measurement Measurement { get; set; } = SampleMeasurement.Ok;

    /// <summary>What is measured of each photo, where that differs.</summary>
    public Func<string, Measurement>? MeasurementOf { get; set; }

    public Exception? Fault { get; set; }

    public Action<CancellationToken>? While { get; set; }

    public CheckReport Check { get; set; } = new(null, []);

    public bool CheckedAtRest { get; private set; }

    public Settings Settings { get; set; } = Settings.Default;

    public string? SettingsFile { get; set; }

    public bool Colour { get; set; }

    public bool AtTerminal { get; set; }

    /// <summary>Width of that terminal.</summary>
    public int Columns { get; set; } = 100;

    /// <summary>What a person answers when asked; null: nobody is there.</summary>
    public string? Answer { get; set; }

    public MeasureOptions? Options { get; private set; }

    public string Out { get; private set; } = "";

    public string Error { get; private set; } = "";

    public int Run(params string[] args) => Run(default, args);

    public int Run(CancellationToken cancel, params string[] args)
    {
        using StringWriter output = new() { NewLine = "\n" };
        using StringWriter error = new() { NewLine = "\n" };
        Engine engine = new(
            (path, options, progress, token) =>
            {
                Options = options;
                progress.Report("Opening the photo");
                While?.Invoke(token);
                Measurement measured = MeasurementOf?.Invoke(path) ?? Measurement;
                return Fault is null
                    ? new MeasuredPhoto(measured, measured.Photo is null ? null : () => Drawn, measured.Blank is null ? null : () => Drawn, null)
                    : throw Fault;
            },
            (letter, paper, kind) => System.Text.Encoding.UTF8.GetBytes($"{letter} {paper} {kind}")) { Check = (_, atRest) => { CheckedAtRest = atRest; return Check; } };
        int code = CliApp.Run(args, engine, new Terminal(output, error, AtTerminal, AtTerminal, Colour, AtTerminal ? Columns : Terminal.PipedWidth) { Settings = Settings, SettingsFile = SettingsFile, In = Answer is null ? null : new StringReader(Answer + "\n") }, cancel);
        (Out, Error) = (output.ToString(), error.ToString());
        return code;
    }
}

/// <summary>A folder of its own that is gone afterwards.</summary>
internal sealed class TempFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("deflectscan-test-").FullName;

    public string this[string name] => System.IO.Path.Combine(Path, name);

    public string File(string name, string text = "")
    {
        System.IO.File.WriteAllText(this[name], text);
        return this[name];
    }

    public void Dispose() => Directory.Delete(Path, recursive: true);
}

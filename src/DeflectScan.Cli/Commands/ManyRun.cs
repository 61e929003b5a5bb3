using DeflectScan.Cli.Display;
using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Measuring;
using DeflectScan.Photos;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Csv;
using DeflectScan.Reporting.Json;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands;

/// <summary><c>deflectscan measure A B C | FOLDER</c>: many photos, each for itself.</summary>
internal static class ManyRun
{
    /// <summary>What is written besides the table.</summary>
    /// <param name="Files">By which rule.</param>
    /// <param name="Csv">The table's file; null for none.</param>
    /// <param name="Force">Replace what is there.</param>
    /// <param name="Many">How many photos at once.</param>
    internal sealed record Writes(OutputFiles Files, string? Csv, bool Force, ManyOptions Many);

    /// <summary>Whether what stands on the command line is more than one photo.</summary>
    public static bool IsMany(IReadOnlyList<string> given) => given.Count > 1 || Directory.Exists(given[0]);

    public static int Run(Engine engine, Terminal terminal, IReadOnlyList<string> given, MeasureCommand.Request request, Writes writes, CancellationToken cancel)
    {
        foreach (string path in given)
            InputFile.MustBeThere(path);
        IReadOnlyList<string> photos = PhotoFolder.Expand(given);
        if (photos.Count == 0)
            throw new UsageException("There is no photo in that folder: give one with JPEG, PNG, WebP or HEIC files.");
        if (!request.Options.Marks.IsEmpty)
            throw new UsageException("--marks belongs to one photo: measure that one by itself.");
        ResultsFolder[]? folders = request.Folder is { } root ? Folders(root, photos, writes) : null;
        IReadOnlyList<string> names = PhotoFolder.Names(photos);
        CountLine progress = new(terminal, photos.Count);
        IReadOnlyList<MeasuredFile> all;
        try
        {
            all = ManyPhotos.Run(photos, writes.Many, One, Failed, progress.Done, Told, cancel);
        }
        finally
        {
            progress.Away();
        }

        MeasuredFile[] named = [.. all.Select((f, i) => f with { File = names[i] })];
        if (writes.Csv is { } csv)
            writes.Files.Write(csv, MeasurementsCsv.Write(named));
        if (!request.Json)
            new ManyDisplay(terminal, new Figures(request.Options.Units)).Show(named);
        foreach (string place in new[] { request.Folder, writes.Csv }.OfType<string>())
            terminal.Say($"Written to {Path.GetFullPath(place)}");
        return ExitCode.Worst(all.Select(f => f.Measurement is { } m ? ExitCode.For(m.Status) : ExitCode.Unexpected));

        MeasuredFile One(int i, CancellationToken token)
        {
            using MeasuredPhoto measured = engine.Measure(photos[i], request.Options, Quiet.Instance, token);
            token.ThrowIfCancellationRequested();
            if (folders is not null)
                MeasureCommand.WriteFolder(folders[i], measured, MeasurementJson.Write(measured.Measurement), token);
            return new MeasuredFile("", measured.Measurement, null);
        }

        void Told(int i, MeasuredFile file)
        {
            if (request.Json)
                terminal.Out.Write(MeasurementLines.Line(file with { File = names[i] }));
            progress.Add(file);
        }
    }

    private static MeasuredFile Failed(int i, Exception e) => new("", null, Explain(e));

    /// <summary>What went wrong at one of many photos.</summary>
    public static string Explain(Exception e) =>
        NativeLibraries.Explain(e) ?? (e is InputException ? e.Message : $"Something unexpected went wrong: measure this photo by itself, and if it happens again, tell the authors: {e.GetType().Name}: {e.Message}");

    /// <summary>A folder a photo, named as the photo is; every one is looked at before any work is done.</summary>
    private static ResultsFolder[] Folders(string root, IReadOnlyList<string> photos, Writes writes)
    {
        IReadOnlyList<string> names = PhotoFolder.FolderNames(photos);
        ResultsFolder[] folders = [.. names.Select(n => new ResultsFolder(Path.Combine(root, n), writes.Files, writes.Force))];
        for (int i = 0; i < photos.Count; i++)
            folders[i].Prepare([photos[i]], together: false);
        return folders;
    }
}

using System.CommandLine;
using DeflectScan.Accuracy.Compare;
using DeflectScan.Accuracy.Report;
using DeflectScan.Findings;

namespace DeflectScan.Accuracy;

/// <summary>compare: measures photos (or reads measurements) and prints the tables.</summary>
internal static class CompareCommand
{
    public static Command Create()
    {
        Argument<DirectoryInfo[]> folders = new("folders") { Description = "Folders with photo.jpg and truth.json in subfolders; testimages when none is given.", Arity = ArgumentArity.ZeroOrMore };
        Option<DirectoryInfo?> from = new("--from") { Description = "Read measurement.json files from here instead of measuring." };
        Option<FileInfo?> json = new("--json") { Description = "Also write everything as JSON." };
        Command command = new("compare", "Compare measurements with the truth; exit status 1 when a bar is missed.") { folders, from, json };
        command.SetAction(arguments => Run(PhotoSet.Folders(arguments.GetValue(folders)), arguments.GetValue(from), arguments.GetValue(json)));
        return command;
    }

    private static int Run(IReadOnlyList<DirectoryInfo> folders, DirectoryInfo? from, FileInfo? json)
    {
        List<PhotoComparison> photos = [];
        foreach (PhotoCase photo in PhotoSet.Read(folders))
        {
            Timed timed = from is null ? Measurer.Measure(photo.PhotoPath) : Measurer.FromFile(from, photo.Name);
            photos.Add(Comparison.Of(photo.Name, timed.Measurement, photo.Truth) with { Seconds = timed.Seconds, Stages = timed.Stages });
            string why = string.Join(" | ", timed.Measurement.Findings.Where(f => f.Severity != Severity.Note).Select(f => f.Message));
            Console.Error.WriteLine($"{photo.Name}: {timed.Measurement.Status} ({timed.Seconds:0.0} s) {why}");
        }

        IReadOnlyList<SummaryLine> summary = Summary.Of(photos);
        Tables.Print(Console.Out, photos);
        Tables.Print(Console.Out, summary);
        if (json is not null)
            JsonFile.Write(json, photos, summary);
        return summary.Any(l => l.Met == false) ? 1 : 0;
    }
}

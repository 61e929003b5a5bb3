using System.CommandLine;
using DeflectScan.Accuracy.Compare;
using DeflectScan.Accuracy.Degrade;
using DeflectScan.Accuracy.Report;

namespace DeflectScan.Accuracy;

/// <summary>degrade: measures worsened versions of good photos and counts wrong figures under ok.</summary>
internal static class DegradeCommand
{
    public static Command Create()
    {
        Argument<DirectoryInfo[]> folders = new("folders") { Description = "Folders with photo.jpg and truth.json in subfolders; testimages when none is given.", Arity = ArgumentArity.ZeroOrMore };
        Option<int> count = new("--count") { Description = "How many versions.", DefaultValueFactory = _ => 200 };
        Option<int> first = new("--first") { Description = "Number of the first version: its name in the list begins with it." };
        Option<DirectoryInfo?> keep = new("--keep") { Description = "Keep the versions that are wrong under ok in this folder." };
        Option<FileInfo?> json = new("--json") { Description = "Also write everything as JSON." };
        Command command = new("degrade", "Measure worsened photos; exit status 1 when one is wrong under ok.") { folders, first, count, keep, json };
        command.SetAction(arguments => Run(
            PhotoSet.Folders(arguments.GetValue(folders)), arguments.GetValue(first), arguments.GetValue(count), arguments.GetValue(keep), arguments.GetValue(json)));
        return command;
    }

    private static int Run(IReadOnlyList<DirectoryInfo> folders, int first, int count, DirectoryInfo? keep, FileInfo? json)
    {
        keep?.Create();
        PhotoCase[] good = [.. PhotoSet.Read(folders).Where(p => p.Truth.ExpectsOk)];
        IReadOnlyList<(string Way, PhotoComparison Photo)> all = DegradeRun.Of(good, first, count, keep, photo => Measurer.Measure(photo));
        DegradeRun.Print(Console.Out, all);
        PhotoComparison[] photos = [.. all.Select(a => a.Photo)];
        if (json is not null)
            JsonFile.Write(json, photos, Summary.Of(photos));
        return photos.Any(DegradeRun.IsWrong) ? 1 : 0;
    }
}

using System.CommandLine;
using DeflectScan.Accuracy.Compare;
using DeflectScan.Accuracy.Report;
using DeflectScan.Scenes;

namespace DeflectScan.Accuracy;

/// <summary>layouts: measures each photo of a rod and predicts the rod's other layouts from it.</summary>
internal static class LayoutsCommand
{
    private const double MedianBarMm = 0.6;
    private const double NinetyFiveBarMm = 2;

    public static Command Create()
    {
        Argument<DirectoryInfo[]> folders = new("folders") { Description = "Folders with truth.json (and photo.jpg) in subfolders; testimages when none is given.", Arity = ArgumentArity.ZeroOrMore };
        Option<DirectoryInfo?> from = new("--from") { Description = "Read measurement.json files from here instead of measuring." };
        Command command = new("layouts", "Predict a rod's other layouts from one photo each and compare with their truth; exit status 1 when the bar is missed.") { folders, from };
        command.SetAction(arguments => Run(PhotoSet.Folders(arguments.GetValue(folders)), arguments.GetValue(from)));
        return command;
    }

    private static int Run(IReadOnlyList<DirectoryInfo> folders, DirectoryInfo? from)
    {
        IReadOnlyList<PhotoCase> photos = PhotoSet.Read(folders);
        List<string[]> rows = [["measured", "predicted", "gaps", "gap med/95/max mm", "bow 95", "clearance 95", "within stated 95 %"]];
        List<PredictedFigure> all = [];
        foreach (PhotoCase photo in photos.Where(p => p.Truth.ExpectsOk && File.Exists(p.PhotoPath)))
        {
            PhotoCase[] others = [.. photos.Where(o => o != photo && LayoutPrediction.SameBend(o.Truth, photo.Truth))];
            if (others.Length == 0)
                continue;
            Measurement measured = (from is null ? Measurer.Measure(photo.PhotoPath) : Measurer.FromFile(from, photo.Name)).Measurement;
            foreach (PhotoCase other in others)
            {
                IReadOnlyList<PredictedFigure> figures = LayoutPrediction.Of(measured, other.Truth);
                rows.Add(Row(photo.Name, other.Name, figures));
                all.AddRange(figures);
            }
        }

        if (all.Count == 0)
        {
            Console.Error.WriteLine("No two truths show the same bend.");
            return 2;
        }

        rows.Add(Row("all", "", all));
        Tables.Print(Console.Out, rows);
        Spread gap = Spread.Of(Errors(all, "gap"));
        bool met = gap.Median <= MedianBarMm && gap.P95 <= NinetyFiveBarMm;
        Console.WriteLine($"predicted gaps, median / 95 %: {gap.Median:0.00} / {gap.P95:0.00} mm; bar {MedianBarMm} / {NinetyFiveBarMm} mm: {(met ? "met" : "MISSED")}");
        return met ? 0 : 1;
    }

    private static string[] Row(string measured, string predicted, IReadOnlyList<PredictedFigure> figures)
    {
        Spread gap = Spread.Of(Errors(figures, "gap"));
        return
        [
            measured, predicted, $"{gap.Count}", $"{gap.Median:0.00}/{gap.P95:0.00}/{gap.Max:0.00}", $"{Spread.Of(Errors(figures, "bow")).P95:0.00}",
            $"{Spread.Of(Errors(figures, "clearance")).P95:0.00}", $"{100.0 * figures.Count(f => f.IsCovered) / figures.Count:0} %",
        ];
    }

    private static IEnumerable<double> Errors(IEnumerable<PredictedFigure> figures, string figure) => figures.Where(f => f.Figure == figure).Select(f => f.Error);
}

using System.CommandLine;
using DeflectScan.Accuracy.Compare;
using DeflectScan.Accuracy.Report;
using DeflectScan.Bending;
using DeflectScan.Desk;
using DeflectScan.Scenes;

namespace DeflectScan.Accuracy;

/// <summary>loads: measures each photo of a rod and predicts the rod at its other loads from it.</summary>
internal static class LoadsCommand
{
    private const double ShapeBarMm = 4;
    private const double FigureBarMm = 0.8;
    private const double LoadBar = 0.02;

    public static Command Create()
    {
        Argument<DirectoryInfo[]> folders = new("folders") { Description = "Folders with truth.json (and photo.jpg) in subfolders; testimages when none is given.", Arity = ArgumentArity.ZeroOrMore };
        Option<DirectoryInfo?> from = new("--from") { Description = "Read measurement.json files from here instead of measuring." };
        Option<bool> rest = new("--rest") { Description = "Each rod's photo at rest helps." };
        Option<bool> joint = new("--joint") { Description = "All photos under load but the predicted one help." };
        Option<bool> untouched = new("--untouched") { Description = "Clamp, rod and cards were left alone between the photos." };
        Option<bool> unseen = new("--unseen") { Description = "It is told how much blank bends between its trace and the clamp (where the whole of it does)." };
        Command command = new("loads", "Predict a rod at its other loads from one photo each and compare with their truth; exit status 1 when a bar is missed.") { folders, from, rest, joint, untouched, unseen };
        command.SetAction(arguments => Run(
            PhotoSet.Folders(arguments.GetValue(folders)), arguments.GetValue(from), arguments.GetValue(rest), arguments.GetValue(joint), arguments.GetValue(untouched), arguments.GetValue(unseen)));
        return command;
    }

    private static int Run(IReadOnlyList<DirectoryInfo> folders, DirectoryInfo? from, bool rest, bool joint, bool untouched, bool unseen)
    {
        IReadOnlyList<PhotoCase> photos = PhotoSet.Read(folders);
        Dictionary<string, Measurement> measured = new(StringComparer.Ordinal);
        List<string[]> rows = [["measured", "predicted", "shape med/95/max mm", "stated", "within", "gaps med/95/max", "bows med/95/max", "within", "load by turn %", "joint ratio %"]];
        List<LoadPrediction> all = [];
        List<double> loads = [];
        foreach (PhotoCase photo in photos.Where(HasPhoto))
        {
            if (PhotoOfBlank.Loaded(Measure(photo)).IsRefused || MeasuredLayout.Of(Measure(photo)).IsRefused || Measure(photo).Guides.Count != photo.Truth.Guides.Count)
            {
                Console.WriteLine($"{photo.Name}: {Measure(photo).Status}, and no blank, no cord or another number of guides was measured; left out");
                continue;
            }

            PhotoCase? atRest = rest ? photos.FirstOrDefault(o => LoadPrediction.SameRod(photo.Truth, o.Truth) && o.Truth.Blank.ForceRelative == 0) : null;
            foreach (PhotoCase other in photos.Where(o => o.Truth.Blank.ForceRelative > 0 && LoadPrediction.SameRod(photo.Truth, o.Truth)))
            {
                LoadPrediction p = LoadPrediction.Of(
                    new BlankSource(Measure(photo))
                    {
                        Rest = atRest is null ? null : Measure(atRest),
                        With = joint ? [.. photos.Where(o => o != photo && o != other && HasPhoto(o) && LoadPrediction.SameRod(photo.Truth, o.Truth)).Select(Measure).Where(m => !PhotoOfBlank.Loaded(m).IsRefused)] : [],
                        Untouched = untouched,
                        UnseenMm = !unseen ? null : Math.Max(0, photo.Truth.Blank.LengthMm - photo.Truth.Blank.ClampedAtSMm[1] - Measure(photo).Blank!.TracedLengthMm),
                    },
                    photo.Truth,
                    other.Truth);
                (double error, double stated)? ratio = HasPhoto(other) && !PhotoOfBlank.Loaded(Measure(other)).IsRefused
                    ? LoadPrediction.JointRatio(Measure(photo), Measure(other), other.Truth.Blank.ForceRelative / photo.Truth.Blank.ForceRelative)
                    : null;
                all.Add(p);
                loads.Add(p.LoadByTurn);
                if (ratio is { } j)
                    loads.Add(j.error);
                rows.Add(
                [
                    photo.Name, other.Name, Text(p.ShapeMm), $"±{p.LargestStatedMm:0.0}", $"{100 * p.ShapeCovered:0} %", Text(p.Gaps), Text(p.Bows), $"{100 * p.FiguresCovered:0} %",
                    $"{100 * p.LoadByTurn:+0.00;-0.00} ±{100 * p.LoadByTurnStated:0.0}", ratio is { } k ? $"{100 * k.error:+0.00;-0.00} ±{100 * k.stated:0.0}" : "",
                ]);
            }
        }

        if (all.Count == 0)
        {
            Console.Error.WriteLine("No two truths show one rod at two loads.");
            return 2;
        }

        Tables.Print(Console.Out, rows);
        double shape = Spread.Of(all.SelectMany(p => p.ShapeMm)).P95;
        double worst = all.Max(p => Spread.Of(p.ShapeMm).P95);
        double figures = Spread.Of(all.SelectMany(p => p.Gaps.Concat(p.Bows))).P95;
        double load = loads.Max(Math.Abs);
        bool met = worst <= ShapeBarMm && figures <= FigureBarMm && load <= LoadBar;
        Console.WriteLine($"shape 95 % {shape:0.00} mm (worst pair {worst:0.00}), bar {ShapeBarMm}; gaps and bows 95 % {figures:0.00} mm, bar {FigureBarMm}; load {100 * load:0.00} %, bar {100 * LoadBar:0}: {(met ? "met" : "MISSED")}");
        return met ? 0 : 1;

        Measurement Measure(PhotoCase photo) => measured.TryGetValue(photo.Name, out Measurement? m)
            ? m
            : measured[photo.Name] = (from is null ? Measurer.Measure(photo.PhotoPath, MeasureOptions.Default with { AtRest = photo.Truth.Blank.ForceRelative == 0 }) : Measurer.FromFile(from, photo.Name)).Measurement;
    }

    private static bool HasPhoto(PhotoCase photo) => photo.Truth.ExpectsOk && photo.Truth.Blank.ForceRelative > 0 && File.Exists(photo.PhotoPath);

    private static string Text(IEnumerable<double> errors) => Spread.Of(errors) is var s ? $"{s.Median:0.00}/{s.P95:0.00}/{s.Max:0.00}" : "";
}

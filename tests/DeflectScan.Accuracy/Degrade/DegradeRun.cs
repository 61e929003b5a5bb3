using DeflectScan.Accuracy.Compare;
using DeflectScan.Accuracy.Report;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Scenes.Rendering.Paint;
using OpenCvSharp;

namespace DeflectScan.Accuracy.Degrade;

/// <summary>Measures many worsened versions of good photos and counts what stands wrongly under ok.</summary>
internal static class DegradeRun
{
    /// <param name="photos">Good photos to start from.</param>
    /// <param name="first">Number of the first version.</param>
    /// <param name="count">How many versions; the photos and the ways take turns.</param>
    /// <param name="keep">Where versions that are wrong under ok are kept; null: nowhere.</param>
    /// <param name="measure">From a file to its measurement.</param>
    /// <returns>Each version with the way's name.</returns>
    public static IReadOnlyList<(string Way, PhotoComparison Photo)> Of(IReadOnlyList<PhotoCase> photos, int first, int count, DirectoryInfo? keep, Func<string, Timed> measure)
    {
        string folder = Directory.CreateTempSubdirectory("deflectscan-degrade-").FullName;
        try
        {
            List<(string Way, PhotoComparison Photo)> all = [];
            for (int i = first; i < first + count; i++)
            {
                // Ways turn fastest and the photos shift by one each round, so that every pair comes up before any comes twice.
                Degradation way = Degradation.All[i % Degradation.All.Count];
                PhotoCase photo = photos[((i % Degradation.All.Count) + (i / Degradation.All.Count)) % photos.Count];
                string path = Path.Combine(folder, $"{i:000}-{way.Name}-{photo.Name}.jpg");
                Truth truth = Write(photo, way, new Random(i), path);
                Timed timed = measure(path);
                all.Add((way.Name, Comparison.Of(Path.GetFileNameWithoutExtension(path), timed.Measurement, truth) with { Seconds = timed.Seconds, Stages = timed.Stages }));
                if (keep is not null && IsWrong(all[^1].Photo))
                    File.Copy(path, Path.Combine(keep.FullName, Path.GetFileName(path)), overwrite: true);
                File.Delete(path);
                Console.Error.WriteLine($"{i - first + 1} of {count}: {all[^1].Photo.Name} {timed.Measurement.Status}");
            }

            return all;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    public static void Print(TextWriter to, IReadOnlyList<(string Way, PhotoComparison Photo)> all)
    {
        List<string[]> rows = [["way", "photos", "ok", "review", "refused", "wrong under ok"]];
        foreach (IGrouping<string, PhotoComparison> way in all.GroupBy(a => a.Way, a => a.Photo, StringComparer.Ordinal))
            rows.Add(Row(way.Key, [.. way]));
        rows.Add(Row("all", [.. all.Select(a => a.Photo)]));
        Tables.Print(to, rows);
        foreach (PhotoComparison p in all.Select(a => a.Photo).Where(IsWrong))
            to.WriteLine($"WRONG UNDER OK  {p.Name}: {(p.ExpectsOk ? "" : "cannot be measured; ")}{string.Join("; ", p.Wrong)}");
    }

    public static bool IsWrong(PhotoComparison p) => p.Status == MeasurementStatus.Ok && (!p.ExpectsOk || p.Wrong.Count > 0);

    private static string[] Row(string name, PhotoComparison[] photos) =>
    [
        name, $"{photos.Length}", $"{photos.Count(p => p.Status == MeasurementStatus.Ok)}", $"{photos.Count(p => p.Status == MeasurementStatus.NeedsReview)}",
        $"{photos.Count(p => p.Status == MeasurementStatus.Refused)}", $"{photos.Count(IsWrong)}",
    ];

    private static Truth Write(PhotoCase photo, Degradation way, Random random, string path)
    {
        using Mat bgr = Cv2.ImRead(photo.PhotoPath, ImreadModes.Color);
        PixelMap map = way.Map(photo.Truth, random);
        Truth warped = TruthWarp.Of(photo.Truth, map);
        using Mat worse = way.Apply(bgr, map, warped, random);
        SceneOptions file = new() { JpegQuality = way.JpegQuality, WritesFocal = photo.Truth.Image.Focal35MmExif is not null, Focal35Mm = photo.Truth.Image.Focal35MmExif ?? 26 };
        File.WriteAllBytes(path, PhoneFile.Jpeg(file, worse));
        return warped;
    }
}

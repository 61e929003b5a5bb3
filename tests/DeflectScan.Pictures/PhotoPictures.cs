using DeflectScan.Measuring;
using DeflectScan.Photos;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Unrolled;
using DeflectScan.Scenes;

namespace DeflectScan.Pictures;

/// <summary>Overlay and unrolled strip of every photo in a folder of photo folders.</summary>
internal static class PhotoPictures
{
    public static int FromTruth(string output, string? root) => Each(output, root, (folder, name) =>
    {
        using UprightPhoto photo = ScenePhoto.Open(folder);
        Truth truth = Truth.Read(Path.Combine(folder, "truth.json"));
        Measurement m = TruthMeasurement.From(truth, photo.Info);
        File.WriteAllBytes(Path.Combine(output, $"{name}-overlay.png"), Overlay.Draw(photo, m));
        File.WriteAllBytes(
            Path.Combine(output, $"{name}-unrolled.png"), UnrolledStrip.Draw(photo, truth.RodPlane(), TruthMeasurement.Axis(truth), m));
    });

    public static int Measured(string output, string? root) => Each(output, root, (folder, name) =>
    {
        using MeasureRun run = MeasurePipeline.Run(Path.Combine(folder, "photo.jpg"), MeasureOptions.Default);
        Console.WriteLine($"{name}: {run.Measurement.Status}");
        if (run.Photo is null)
            return;
        File.WriteAllBytes(Path.Combine(output, $"{name}-overlay.png"), Overlay.Draw(run.Photo, run.Measurement));
        if (run is { Plane: not null, Axis: not null })
        {
            File.WriteAllBytes(
                Path.Combine(output, $"{name}-unrolled.png"), UnrolledStrip.Draw(run.Photo, run.Plane, run.Axis, run.Measurement));
        }
    });

    /// <summary>One test photo in a mirror: a rod that points left.</summary>
    public static int Mirrored(string output, string name)
    {
        Directory.CreateDirectory(output);
        using MirroredScene scene = MirroredScene.Of(name);
        File.WriteAllBytes(Path.Combine(output, $"{name}-overlay.png"), Overlay.Draw(scene.Photo, scene.Measurement));
        File.WriteAllBytes(
            Path.Combine(output, $"{name}-unrolled.png"), UnrolledStrip.Draw(scene.Photo, scene.Plane, scene.Axis, scene.Measurement));
        return 0;
    }

    private static int Each(string output, string? root, Action<string, string> draw)
    {
        Directory.CreateDirectory(output);
        foreach (string folder in Directory.GetDirectories(root ?? Repository.TestImages).Order(StringComparer.Ordinal))
            draw(folder, Path.GetFileName(folder));
        return 0;
    }
}

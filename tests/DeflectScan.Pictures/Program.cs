using System.Diagnostics;
using DeflectScan;
using DeflectScan.Photos;
using DeflectScan.Reporting;
using DeflectScan.Scenes;

// Pictures from exact truth, for looking at: "overlays OUT [FOLDER-OF-PHOTOS]" draws every photo's overlay and unrolled strip with timings;
// "docs" writes the figures of docs/.
if (args is ["overlays", var output, ..])
{
    string root = args.Length > 2 ? args[2] : Repository.TestImages;
    Directory.CreateDirectory(output);
    foreach (string folder in Directory.GetDirectories(root).Order(StringComparer.Ordinal))
    {
        string name = Path.GetFileName(folder);
        using UprightPhoto photo = ScenePhoto.Open(folder);
        Truth truth = Truth.Read(Path.Combine(folder, "truth.json"));
        Measurement m = TruthMeasurement.From(truth, photo.Info);
        Stopwatch watch = Stopwatch.StartNew();
        byte[] overlay = Overlay.Draw(photo, m);
        long overlayMs = watch.ElapsedMilliseconds;
        File.WriteAllBytes(Path.Combine(output, $"{name}-overlay.png"), overlay);
        watch.Restart();
        byte[] strip = UnrolledStrip.Draw(photo, truth.RodPlane(), TruthMeasurement.Axis(truth), m);
        long stripMs = watch.ElapsedMilliseconds;
        File.WriteAllBytes(Path.Combine(output, $"{name}-unrolled.png"), strip);
        Console.WriteLine($"{name}: overlay {overlayMs} ms, {overlay.Length / 1024} KB; unrolled {stripMs} ms, {strip.Length / 1024} KB");
    }

    return 0;
}

Console.Error.WriteLine("Say overlays OUT [PHOTOS] or docs.");
return 2;

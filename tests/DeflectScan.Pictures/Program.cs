using System.Diagnostics;
using DeflectScan;
using DeflectScan.Photos;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Scenes;

// Pictures from exact truth, for looking at: "overlays OUT [FOLDER-OF-PHOTOS]" draws every photo's overlay and unrolled strip;
// "time NAME" times the two on one test photo, first call and best of ten, wall and processor; "sheets OUT NAME"
// prints the layout sheet and the marking tape of one test photo's rod; "docs" writes the figures of docs/.
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

if (args is ["sheets", var sheets, var rod])
{
    Directory.CreateDirectory(sheets);
    SheetLayout layout = SceneSheets.From(Repository.Truth(rod));
    foreach (SheetPaper paper in Enum.GetValues<SheetPaper>())
    {
        File.WriteAllBytes(Path.Combine(sheets, $"layout-{paper}.pdf"), LayoutSheet.Draw(layout, paper));
        File.WriteAllBytes(Path.Combine(sheets, $"tape-{paper}.pdf"), MarkingTape.Draw(layout, paper));
    }

    return 0;
}

if (args is ["time", var timed])
{
    using UprightPhoto photo = ScenePhoto.Open(Path.Combine(Repository.TestImages, timed));
    Truth truth = Repository.Truth(timed);
    Measurement m = TruthMeasurement.From(truth, photo.Info);
    Time("overlay", () => Overlay.Draw(photo, m));
    Time("unrolled", () => UnrolledStrip.Draw(photo, truth.RodPlane(), TruthMeasurement.Axis(truth), m));
    return 0;
}

static void Time(string what, Func<byte[]> draw)
{
    Process self = Process.GetCurrentProcess();
    List<(double Wall, double Cpu)> runs = [];
    for (int i = 0; i < 11; i++)
    {
        self.Refresh();
        double cpu = self.TotalProcessorTime.TotalMilliseconds;
        Stopwatch watch = Stopwatch.StartNew();
        draw();
        double wall = watch.Elapsed.TotalMilliseconds;
        self.Refresh();
        runs.Add((wall, self.TotalProcessorTime.TotalMilliseconds - cpu));
    }

    Console.WriteLine(
        $"{what}: first {runs[0].Wall:0} ms wall, {runs[0].Cpu:0} ms processor; best {runs.Min(r => r.Wall):0} ms wall, {runs.Min(r => r.Cpu):0} ms processor");
}

Console.Error.WriteLine("Say overlays OUT [PHOTOS], time NAME, sheets OUT NAME, or docs.");
return 2;

using System.Diagnostics;
using DeflectScan.Photos;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Unrolled;
using DeflectScan.Scenes;

namespace DeflectScan.Pictures;

/// <summary>How long the two pictures of one photo take.</summary>
internal static class Timing
{
    public static int Run(string name)
    {
        using UprightPhoto photo = ScenePhoto.Open(Path.Combine(Repository.TestImages, name));
        Truth truth = Repository.Truth(name);
        Measurement m = TruthMeasurement.From(truth, photo.Info);
        Time("overlay", () => Overlay.Draw(photo, m));
        Time("unrolled", () => UnrolledStrip.Draw(photo, truth.RodPlane(), TruthMeasurement.Axis(truth), m));
        return 0;
    }

    private static void Time(string what, Func<byte[]> draw)
    {
        using Process self = Process.GetCurrentProcess();
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
}

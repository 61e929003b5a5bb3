using System.Security.Cryptography;
using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Scenes.Samples;
using DeflectScan.Tracing;
using DeflectScan.Web;
using DeflectScan.Web.Serving;

namespace DeflectScan.Nightly.Pages;

/// <summary>
/// The page's own server with an engine that takes a while and says what it was told: any file is a photo, and rings stand where the marks put them. Storing,
/// queue, log and archive are the real ones.
/// </summary>
internal static class PageWorker
{
    public static async Task Run(string folder, int seed, CancellationToken cancel)
    {
        Random random = new(seed);
        await using PageServer server = await PageServer.Start(new ServeOptions(folder, 0, MeasureOptions.Default)
        {
            Measure = (path, options, progress, token) =>
            {
                progress.Report("Opening the photo");
                int ms;
                lock (random)
                    ms = random.Next(5, 80);
                token.WaitHandle.WaitOne(ms);
                token.ThrowIfCancellationRequested();
                return new MeasureRun(Measured(path, options), null, null, null);
            },
        });
        Console.WriteLine(server.Address);
        await Task.Delay(Timeout.Infinite, cancel);
    }

    private static Measurement Measured(string path, MeasureOptions options)
    {
        Measurement sample = SampleMeasurement.Ok;
        string sha256 = Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(path)));
        BlankReport blank = sample.Blank! with { Axis = [.. sample.Blank.Axis, new AxisSample(10, new Vec2(3392, 906), new Vec2(-9.8, 1.2), 2)] };
        Measurement m = sample with { Findings = [], Blank = blank, Photo = sample.Photo! with { FileName = Path.GetFileName(path), Sha256 = sha256 } };
        return options.Marks.RingsPx.Count == 0 ? m : m with { Guides = [.. options.Marks.RingsPx.Select((px, i) => Ring(sample, px, i + 1, options.Marks.RingsPx.Count))] };
    }

    private static GuideReport Ring(Measurement sample, Vec2 px, int index, int count) =>
        sample.Guides[Math.Min(index, sample.Guides.Count) - 1] with { Index = index, RingPx = px, IsTip = index == count, Station = new(100 * (count - index), 1), Source = Source.Marked };
}

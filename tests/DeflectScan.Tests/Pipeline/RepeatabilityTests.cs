using System.Diagnostics;
using DeflectScan.Accuracy.Compare;
using DeflectScan.Measuring;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes;
using DeflectScan.Tests.Photos;
using OpenCvSharp;

namespace DeflectScan.Tests.Pipeline;

/// <summary>The same photo gives the same bytes. Alone in its collection: it changes how many threads the process has.</summary>
[Collection("number of threads")]
public class RepeatabilityTests
{
    private const string Name = "thin-braid";
    private static readonly Lazy<string> First = new(() => MeasurementJson.Write(Measured.Photo(Name)));

    [Fact]
    public void A_small_photo_measured_five_times_gives_the_same_bytes() => Repeat(5);

    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void A_small_photo_measured_twenty_times_gives_the_same_bytes() => Repeat(20);

    private static void Repeat(int runs)
    {
        using TempFolder folder = new();
        using Mat bgr = Cv2.ImRead(Repository.Photo(Name));
        using Mat small = new();
        Cv2.Resize(bgr, small, default, 0.35, 0.35, InterpolationFlags.Area);
        Cv2.ImEncode(".png", small, out byte[] png, [(int)ImwriteFlags.PngCompression, 1]);
        string file = folder.File("photo.png", png);
        Measurement first = MeasurePipeline.Measure(file, MeasureOptions.Default);
        Assert.NotEmpty(first.Intervals);
        string expected = MeasurementJson.Write(first);
        for (int run = 1; run < runs; run++)
            Assert.Equal(expected, MeasurementJson.Write(MeasurePipeline.Measure(file, MeasureOptions.Default)));
    }

    [Fact]
    public void Threads_of_the_pool_and_of_the_picture_library_do_not_change_the_bytes()
    {
        const int Threads = 16;
        string first = First.Value;
        ThreadPool.GetMinThreads(out int workers, out int ports);
        int before = Cv2.GetNumThreads();
        try
        {
            Assert.True(ThreadPool.SetMinThreads(Threads, ports));
            Cv2.SetNumThreads(Threads);
            Assert.Equal(first, MeasurementJson.Write(MeasurePipeline.Measure(Repository.Photo(Name), MeasureOptions.Default)));
        }
        finally
        {
            Cv2.SetNumThreads(before);
            ThreadPool.SetMinThreads(workers, ports);
        }
    }

    // DOTNET_PROCESSOR_COUNT: one processor as the runtime sees it, so that nothing runs beside anything else (Microsoft Learn, runtime configuration).
    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void A_process_of_one_thread_gives_the_same_bytes()
    {
        string program = Path.Combine(AppContext.BaseDirectory, $"{typeof(PhotoComparison).Assembly.GetName().Name}.dll");
        ProcessStartInfo start = new("dotnet", [program, "document", Repository.Photo(Name)]) { UseShellExecute = false, RedirectStandardOutput = true };
        start.Environment["DOTNET_PROCESSOR_COUNT"] = "1";
        using Process process = Process.Start(start)!;
        string document = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.Equal(0, process.ExitCode);
        Assert.Equal(First.Value, document);
    }
}

/// <summary>Runs after everything that may run at the same time.</summary>
[CollectionDefinition("number of threads", DisableParallelization = true)]
public class ThreadCountCollection;

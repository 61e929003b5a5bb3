using DeflectScan.Reporting.Json;
using DeflectScan.Scenes;
using OpenCvSharp;

namespace DeflectScan.Tests.Pipeline;

/// <summary>The same photo gives the same bytes. Alone in its collection: it changes how many threads the process has.</summary>
[Collection("number of threads")]
public class RepeatabilityTests
{
    private const string Name = "thin-braid";

    private static readonly Lazy<string> First = new(() => MeasurementJson.Write(Measured.Photo(Name)));

    [Fact]
    public void Measured_again_a_photo_gives_the_same_bytes() => Assert.Equal(First.Value, Document());

    [Theory]
    [InlineData(1)]
    [InlineData(16)]
    public void Threads_of_the_pool_and_of_the_picture_library_do_not_change_the_bytes(int threads)
    {
        string first = First.Value;
        ThreadPool.GetMinThreads(out int workers, out int ports);
        int before = Cv2.GetNumThreads();
        try
        {
            Assert.True(ThreadPool.SetMinThreads(threads, ports));
            Cv2.SetNumThreads(threads);
            Assert.Equal(first, Document());
        }
        finally
        {
            Cv2.SetNumThreads(before);
            ThreadPool.SetMinThreads(workers, ports);
        }
    }

    private static string Document() => MeasurementJson.Write(MeasurePipeline.Measure(Repository.Photo(Name), MeasureOptions.Default));
}

/// <summary>Runs after everything that may run at the same time.</summary>
[CollectionDefinition("number of threads", DisableParallelization = true)]
public class ThreadCountCollection;

using BenchmarkDotNet.Attributes;
using DeflectScan.Measuring;
using DeflectScan.Scenes;

namespace DeflectScan.Benchmarks;

/// <summary>All stages: what the figures take is this less the other rooms.</summary>
public class MeasuringBench
{
    [Benchmark]
    public Measurement Whole()
    {
        using MeasureRun run = MeasurePipeline.Run(Repository.Photo(TestPhoto.Name), MeasureOptions.Default);
        return run.Measurement;
    }
}

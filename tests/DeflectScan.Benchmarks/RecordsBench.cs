using BenchmarkDotNet.Attributes;
using DeflectScan.Records;
using DeflectScan.Records.Finding;
using DeflectScan.Records.Model;

namespace DeflectScan.Benchmarks;

/// <summary>A page of the list of a thousand builds.</summary>
public class RecordsBench
{
    private const int Builds = 1000;
    private readonly string _folder = Path.Combine(Directory.CreateTempSubdirectory("deflectscan-benchmark-").FullName, "archive");

    [GlobalSetup]
    public void Make()
    {
        Archive.Create(_folder);
        using ArchiveWriter writer = Archive.OpenForWriting(_folder);
        for (int i = 1; i <= Builds; i++)
            writer.AddBuild(new BuildFacts { Name = $"Build {i}" });
    }

    [GlobalCleanup]
    public void Delete() => Directory.Delete(Path.GetDirectoryName(_folder)!, recursive: true);

    [Benchmark]
    public IReadOnlyList<BuildSummary> List()
    {
        using ArchiveReader reader = Archive.OpenForReading(_folder);
        return reader.List(1, 25, new ListQuery());
    }
}

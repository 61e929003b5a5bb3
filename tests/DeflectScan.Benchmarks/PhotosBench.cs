using BenchmarkDotNet.Attributes;
using DeflectScan.Photos;

namespace DeflectScan.Benchmarks;

public class PhotosBench
{
    [Benchmark]
    public int Open()
    {
        using UprightPhoto photo = TestPhoto.Open();
        return photo.Info.WidthPx;
    }
}

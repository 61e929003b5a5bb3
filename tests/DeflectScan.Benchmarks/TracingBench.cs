using BenchmarkDotNet.Attributes;
using DeflectScan.Calibration;
using DeflectScan.Photos;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Blank;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Benchmarks;

public class TracingBench
{
    private UprightPhoto _photo = null!;
    private PlaneSolution _solved = null!;
    private BlankAxis _axis = null!;

    [GlobalSetup]
    public void Open()
    {
        _photo = TestPhoto.Open();
        _solved = TestPhoto.Plane(_photo);
        _axis = Blank();
    }

    [GlobalCleanup]
    public void Close() => _photo.Dispose();

    [Benchmark]
    public BlankAxis Blank() => AxisTracer.Trace(_photo, _solved.Plane, new AxisOptions()).OrDamaged();

    [Benchmark]
    public LineTrace Line() => LineTracer.Trace(_photo, _solved.Plane, _axis, new LineOptions()).OrDamaged();
}

using BenchmarkDotNet.Attributes;
using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Photos;

namespace DeflectScan.Benchmarks;

public class CalibrationBench
{
    private UprightPhoto _photo = null!;
    private IReadOnlyList<CardSighting> _cards = [];

    [GlobalSetup]
    public void Open() => _cards = CardFinder.Find(_photo = TestPhoto.Open());

    [GlobalCleanup]
    public void Close() => _photo.Dispose();

    [Benchmark]
    public IReadOnlyList<CardSighting> Cards() => CardFinder.Find(_photo);

    [Benchmark]
    public PlaneSolution Plane() => PlaneSolver.Solve(_cards, _photo.Info).OrDamaged();
}

using BenchmarkDotNet.Attributes;
using DeflectScan.Desk;
using DeflectScan.Scenes;

namespace DeflectScan.Benchmarks;

public class DeskBench
{
    private readonly MeasuredLayout _rod = MeasuredLayout.Of(TruthDocument.Of(TestPhoto.Name)).OrDamaged();

    [Benchmark]
    public WhatIfReport WhatIf() => WhatIfReport.Of(_rod, [new MoveTo(5, _rod.Rings[4].StationMm + 10)], null).OrDamaged();

    [Benchmark]
    public SpacingReport Spacing() => SpacingReport.Of(_rod, new SpacingRequest { Guides = _rod.Rings.Count }, null).OrDamaged();
}

using DeflectScan.Measuring;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;

namespace DeflectScan.Tests.Tracing;

/// <summary>Wide scenes that were once wrong under ok, against their exact truth: right, or up for review.</summary>
public class WideRegressionTests
{
    /// <summary>
    /// 910021: a dark shadow beside a dark blank led the axis 2.7 mm away (gaps 2.9 mm off, 0.9 stated). 910066: a stripping guide 71 mm tall before another
    /// rod was left out. 910085: the trace ended at a guide 143 mm before the tip.
    /// </summary>
    [Theory]
    [Trait("Set", "long")]
    [InlineData(910021)]
    [InlineData(910066)]
    [InlineData(910085)]
    public void What_is_ok_is_right(int seed) => Measured(seed, (scene, m) =>
    {
        Assert.NotEqual(MeasurementStatus.Refused, m.Status);
        if (m.Status != MeasurementStatus.Ok)
            return;
        Assert.Equal(scene.Truth.Guides.Count, m.Guides.Count);
        Assert.All(m.Intervals.Zip(scene.Truth.Intervals.Where(t => t.From.ValueKind == System.Text.Json.JsonValueKind.Number)), p => Assert.InRange(Math.Abs(p.First.GapMm - p.Second.GapMm), 0, Math.Max(2, p.First.Gap.UncertaintyMm)));
    });

    /// <summary>A tip 2.3 mm thick that a little more blur than there is would make a line without width: its diameter was said to be 0, and the photo went to review.</summary>
    [Fact]
    [Trait("Set", "long")]
    public void ABlurredTipHasAThickness() => Measured(910017, (scene, m) =>
    {
        Assert.Equal(MeasurementStatus.Ok, m.Status);
        Assert.All(m.Blank!.Axis, a => Assert.InRange(a.DiameterMm, 1, 20));
    });

    private static void Measured(int seed, Action<Scene, Measurement> look)
    {
        string folder = Directory.CreateTempSubdirectory("deflectscan-wide").FullName;
        try
        {
            Scene scene = new(RandomScenes.Wide(seed, (seed - 910000) / 99.0));
            scene.WriteTo(folder);
            Measurement m = MeasurePipeline.Measure(Path.Combine(folder, "photo.jpg"), MeasureOptions.Default);
            look(scene, m);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}

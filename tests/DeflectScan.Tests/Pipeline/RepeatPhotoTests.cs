using System.Text.Json;
using DeflectScan.Measuring;
using DeflectScan.Repeating;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Tests.Photos;

namespace DeflectScan.Tests.Pipeline;

/// <summary>Rendered photos of one rod: the camera moved, the light and the noise others; on the first a guide is slid by 15 mm.</summary>
[Collection(Measured.Collection)]
public class RepeatPhotoTests
{
    private static readonly SceneOptions Rod = new() { Seed = 21, WidthPx = 2592, HeightPx = 1944, LineMm = 0.4 };

    private static SceneOptions[] Photos =>
    [
        Rod with { NoiseSeed = 100, Moved = (4, 15) },
        Rod with { NoiseSeed = 101 },
        Rod with { NoiseSeed = 102, YawDeg = -3, PitchDeg = 1, Exposure = 0.85 },
        Rod with { NoiseSeed = 103, YawDeg = 7, RollDeg = -1, Fill = 0.88, Light = LightKind.Two },
    ];

    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void The_moved_guide_is_named_and_the_others_agree_with_the_truth()
    {
        using TempFolder folder = new();
        List<(string File, Measurement Measurement)> measured = [];
        Truth? truth = null;
        foreach (SceneOptions options in Photos)
        {
            Scene scene = new(options);
            truth = scene.Truth;
            string file = folder.File($"{options.NoiseSeed}.jpg", scene.RenderJpeg());
            measured.Add((Path.GetFileName(file), MeasurePipeline.Measure(file, MeasureOptions.Default)));
        }

        RepeatReport report = RepeatRule.Combine(measured);
        Assert.Equal(["100.jpg"], report.Photos.Where(p => !p.Used).Select(p => p.File));
        Assert.Contains(report.Notes, n => n.StartsWith("100.jpg was left out", StringComparison.Ordinal));
        Assert.InRange(report.SpreadOverStated!.Value, 0, 1.5);
        RepeatedFigure[] gaps = [.. report.Figures.Where(f => f.Name == "gap")];
        TruthInterval[] pairs = [.. truth!.Intervals.Where(i => i.From.ValueKind == JsonValueKind.Number)]; // the one from the reel is not measured
        Assert.Equal(pairs.Length, gaps.Length);
        for (int i = 0; i < gaps.Length; i++)
            Assert.True(Math.Abs(gaps[i].ValueMm - pairs[i].GapMm) <= Math.Max(2, gaps[i].UncertaintyMm), $"{gaps[i]}: {pairs[i].GapMm}");
    }
}

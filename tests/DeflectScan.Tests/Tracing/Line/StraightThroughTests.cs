using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Tests.Tracing.Line;

/// <summary>A ring that the line runs straight through is a ring: against the exact contacts of a rendered scene.</summary>
public class StraightThroughTests
{
    [Fact]
    public void AFirstGuideThatDoesNotTurnTheLineIsFoundWhereItsRingStands()
    {
        Scene scene = new(RandomScenes.Good(109, 0.35) with { WidthPx = 2160, HeightPx = 1620 });
        Truth truth = scene.Truth;
        Assert.InRange(truth.Guides[0].LineAngleDeg, -0.01, 0.01);
        string folder = Directory.CreateTempSubdirectory("deflectscan-straight").FullName;
        try
        {
            scene.WriteTo(folder);
            using UprightPhoto photo = ScenePhoto.Open(folder);
            Outcome<LineTrace> outcome = LineTracer.Trace(photo, truth.RodPlane(), TruthAxis.Of(truth), LineOptions.Default);
            LineTrace trace = outcome.Value!;
            Assert.Equal(truth.Guides.Count, trace.Rings.Count);
            RingSighting first = trace.Rings[0];
            double offMm = first.ContactMm.DistanceTo(truth.RodPlane().ToPlane(new Vec2(truth.Guides[0].ContactPx[0], truth.Guides[0].ContactPx[1])));
            Assert.True(offMm < 2 * first.AlongSdMm, $"the ring point is {offMm:0.0} mm off, {first.AlongSdMm:0.0} mm stated");
            Assert.InRange(first.AlongSdMm, 0.3, 2);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}

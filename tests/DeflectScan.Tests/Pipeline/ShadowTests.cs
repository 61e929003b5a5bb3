using DeflectScan.Findings;
using DeflectScan.Scenes.Rendering;

namespace DeflectScan.Tests.Pipeline;

/// <summary>A rod before a near wall, whose shadow parts from it towards the tip and has guides, line and cord as the rod has.</summary>
[Collection(Measured.Collection)]
public class ShadowTests
{
    /// <summary>Drawn in a campaign of 306 good scenes, the only one in which the trace ended on the shadow; the tip is 150 mm off there, under ok before.</summary>
    private static readonly SceneOptions OnItsShadow = RandomScenes.Wide(1962608, 8 / 11.0) with { WidthPx = 4000, HeightPx = 3000 };

    [Fact]
    public void ATipOnTheShadowGoesToReview()
    {
        Measurement m = Measured.Scene(OnItsShadow).Measurement;
        Assert.Equal(MeasurementStatus.NeedsReview, m.Status);
        Finding doubt = Assert.Single(m.Findings, f => f.Code == FindingCode.RodNotFound);
        Assert.Contains("shadow", doubt.Message, StringComparison.Ordinal);
        Assert.Equal(0, Assert.Single(doubt.Places).FromMm);
    }

    [Fact]
    public void NoPhotoWhoseTipIsRightIsDoubtedSo() =>
        Assert.All(Measured.Good.Select(Measured.Photo), m => Assert.DoesNotContain(m.Findings, f => f.Code == FindingCode.RodNotFound));
}

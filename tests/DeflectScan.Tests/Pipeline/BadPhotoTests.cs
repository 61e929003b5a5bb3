using DeflectScan.Accuracy;
using DeflectScan.Accuracy.Compare;
using DeflectScan.Accuracy.Degrade;
using DeflectScan.Measuring;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;

namespace DeflectScan.Tests.Pipeline;

/// <summary>Photos that cannot be measured: no figure under ok, and the code that says why.</summary>
[Collection(Measured.Collection)]
public class BadPhotoTests
{
    [Theory]
    [InlineData("bad-no-card", "card-missing")]
    [InlineData("bad-tip-cropped", "tip-outside-frame")]
    public void Photo_is_refused_with_the_code_that_says_why(string name, string code)
    {
        Measurement m = Measured.Photo(name);
        Assert.Equal(MeasurementStatus.Refused, m.Status);
        Assert.Contains(code, Measured.Codes(m));
        Assert.Empty(m.Intervals);
        Assert.Null(m.Largest);
        Assert.Null(m.Suggestion);
    }

    /// <summary>A cut-out that ends 34 mm before the tip: the blank was carried on beyond the frame, and its tip "found" there. One of 400 worsened photos.</summary>
    [Fact]
    public void A_tip_that_was_cut_off_is_not_found_beyond_the_frame()
    {
        PhotoCase photo = PhotoSet.Read([new DirectoryInfo(Repository.TestImages)]).Single(p => p.Name == "one-card");
        (string way, PhotoComparison cut) = Assert.Single(DegradeRun.Of([photo], 146, 1, null, path => Measurer.Measure(path)));
        Assert.Equal(("crop", false), (way, cut.ExpectsOk));
        Assert.Equal(MeasurementStatus.Refused, cut.Status);
        Assert.Contains("tip-outside-frame", cut.Codes);
    }

    [Theory]
    [InlineData(4, Defect.CardOffPlane)]
    [InlineData(4, Defect.Blurred)]
    [InlineData(4, Defect.NoRod)]
    [InlineData(4, Defect.CardTooSmall)]
    public void Scene_that_cannot_be_measured_is_never_ok_and_says_why(int seed, Defect defect)
    {
        SceneOptions options = RandomScenes.Bad(seed, defect);
        MeasuredScene scene = Measured.Scene(defect is Defect.CardTooSmall or Defect.TipCropped or Defect.ButtCropped ? options : options with { WidthPx = 2048, HeightPx = 1536 });
        Assert.NotEqual(MeasurementStatus.Ok, scene.Measurement.Status);
        Assert.True(
            scene.Truth.ExpectedCodes!.Intersect(Measured.Codes(scene.Measurement), StringComparer.Ordinal).Any(),
            $"said {string.Join(", ", scene.Compared.Codes)}, right were {string.Join(", ", scene.Truth.ExpectedCodes!)}");
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData(3, Defect.ButtCropped)]
    [InlineData(4, Defect.LargeTilt)]
    [InlineData(4, Defect.NoCard)]
    [InlineData(3, Defect.TipCropped)]
    public void Scene_that_cannot_be_measured_is_never_ok_and_says_why_more(int seed, Defect defect) => Scene_that_cannot_be_measured_is_never_ok_and_says_why(seed, defect);
}

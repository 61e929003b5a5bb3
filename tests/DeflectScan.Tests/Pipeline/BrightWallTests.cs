using DeflectScan.Scenes;
using OpenCvSharp;

namespace DeflectScan.Tests.Pipeline;

/// <summary>On a wall that is burnt out to white guides can vanish: nothing stands under ok there.</summary>
[Collection(Measured.Collection)]
public class BrightWallTests
{
    [Fact]
    public void ABurntOutWallGoesToReview()
    {
        using Mat bgr = Cv2.ImRead(Repository.Photo("loads-deep"));
        using Mat brighter = new();
        bgr.ConvertTo(brighter, -1, 1.35, 10);
        Measurement m = Measured.Pixels(brighter);
        Assert.Equal(MeasurementStatus.NeedsReview, m.Status);
        Assert.Contains(m.Findings, f => f.CodeText == "low-contrast" && f.Message.Contains("burnt out", StringComparison.Ordinal));
    }

    [Fact]
    public void AWallThatIsNotBurntOutIsNotSpokenOf() =>
        Assert.DoesNotContain("low-contrast", Measured.Codes(Measured.Photo("clean-spinning")));
}

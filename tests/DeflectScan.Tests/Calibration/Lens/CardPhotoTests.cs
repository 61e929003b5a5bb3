using DeflectScan.Calibration;
using DeflectScan.Calibration.Lens;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Tests.Photos;
using Xunit.Abstractions;

namespace DeflectScan.Tests.Calibration.Lens;

/// <summary>From rendered photos of a printed card, through files, markers and corners, to the lens that rendered them.</summary>
public class CardPhotoTests(ITestOutputHelper output)
{
    private const int WidthPx = 1600;
    private const int HeightPx = 1200;
    private static readonly CameraModel Camera = new(1215, new Vec2(806, 594), 0.06, -0.11, 0.0004, -0.0003, 0);

    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void ThePhotosGiveTheLensThatRenderedThem()
    {
        LensCalibration lens = Calibrate(count: 12, tiltDeg: 32, spread: 1);
        double[] truth = [Camera.FocalPx, Camera.PrincipalPx.X, Camera.PrincipalPx.Y, Camera.K1, Camera.K2, Camera.P1, Camera.P2];
        double[] found = [lens.Profile.FocalPx, lens.Profile.PrincipalXPx, lens.Profile.PrincipalYPx, .. lens.Profile.Distortion];
        for (int i = 0; i < truth.Length; i++)
        {
            output.WriteLine($"{truth[i]} {found[i]:0.00000} ± {2 * lens.Sd[i]:0.00000}: {(found[i] - truth[i]) / lens.Sd[i]:0.0}");
            Assert.True(Math.Abs(found[i] - truth[i]) < 3 * lens.Sd[i], $"parameter {i}: {found[i]}, true {truth[i]}, standard deviation {lens.Sd[i]}");
        }

        Assert.InRange(lens.Sd[0] / Camera.FocalPx, 0, 0.003);
        Assert.InRange(lens.Profile.RmsPx, 0.005, 0.2);
        Assert.Equal(("Made up", "One"), (lens.Profile.Identity.CameraMake, lens.Profile.Identity.CameraModel));
    }

    [Fact]
    public void FewFlatViewsInTheMiddleAreWarnedOf()
    {
        LensCalibration lens = Calibrate(count: 4, tiltDeg: 14, spread: 0.2);
        foreach (string warning in lens.Warnings)
            output.WriteLine(warning);
        Assert.Contains(lens.Warnings, w => w.StartsWith("Only 4 views", StringComparison.Ordinal));
        Assert.Contains(lens.Warnings, w => w.Contains("of the picture", StringComparison.Ordinal));
    }

    private static LensCalibration Calibrate(int count, double tiltDeg, double spread)
    {
        using TempFolder folder = new();
        using CardPhotos photos = new(Camera, WidthPx, HeightPx);
        string[] files = [.. Enumerable.Range(0, count).Select(i => folder.File($"{i}.jpg", photos.RenderJpeg(i, "One", 26, tiltDeg, spread)))];
        using UprightPhoto first = PhotoOpener.Open(files[0], PhotoLimits.Default).Value!;
        Assert.Equal(26, first.Info.FocalLength35Mm);
        return LensCalibrator.FromFiles(files, null).Value!;
    }
}

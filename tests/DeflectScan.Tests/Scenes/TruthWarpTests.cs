using DeflectScan.Accuracy.Degrade;
using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Scenes;

/// <summary>Cropping, scaling and turning a photo moves its truth with it: the exact camera still sees every mm at its px.</summary>
public class TruthWarpTests
{
    public static TheoryData<PixelMap> Maps() =>
    [
        new PixelMap(0, 0, 4032, 3024, 1, 1),
        new PixelMap(0, 0, 4032, 3024, 1, 2),
        new PixelMap(0, 0, 4032, 3024, 1, 3),
        new PixelMap(0, 0, 4032, 3024, 0.5, 0),
        new PixelMap(120, 60, 3800, 2900, 1, 0),
        new PixelMap(100, 80, 3600, 2800, 0.5, 1),
    ];

    [Theory]
    [MemberData(nameof(Maps))]
    public void TheWarpedCameraSeesTheWarpedPixels(PixelMap map)
    {
        Truth warped = TruthWarp.Of(Repository.Truth("clean-spinning"), map);
        Assert.Equal([map.Width, map.Height], warped.Image.Displayed);
        RodPlane plane = warped.RodPlane();
        foreach (TruthGuide g in warped.Guides)
            Assert.True(plane.ToPhoto(new Vec2(g.ContactMm[0], g.ContactMm[1])).DistanceTo(new Vec2(g.ContactPx[0], g.ContactPx[1])) < 0.01);
    }

    [Fact]
    public void APhotoCroppedThroughTheTipExpectsNoFigures()
    {
        Truth truth = Repository.Truth("clean-spinning");
        int tip = (int)truth.Blank.Samples[^1].U;
        Assert.True(TruthWarp.Of(truth, new PixelMap(0, 0, 4032, 3024, 1, 0)).ExpectsOk);
        Assert.False(TruthWarp.Of(truth, new PixelMap(0, 0, tip - 20, 3024, 1, 0)).ExpectsOk);
    }
}

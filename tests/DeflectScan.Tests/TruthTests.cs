using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Scenes;

namespace DeflectScan.Tests;

public class TruthTests
{
    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("casting-top")]
    [InlineData("rotated-exif")]
    public void TheExactPlaneMapsTheTruthsMillimetresToItsPixels(string name)
    {
        Truth truth = Repository.Truth(name);
        RodPlane plane = truth.RodPlane();
        foreach (TruthGuide g in truth.Guides)
        {
            Vec2 mm = new(g.ContactMm[0], g.ContactMm[1]);
            Vec2 px = new(g.ContactPx[0], g.ContactPx[1]);
            Assert.True(plane.ToPhoto(mm).DistanceTo(px) < 0.01, $"guide {g.Index}: {plane.ToPhoto(mm)} is not {px}");
            Assert.True(plane.ToPlane(px).DistanceTo(mm) < 0.01);
        }
    }

    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("yaw12")]
    public void TheCamerasPlaceFollowsFromTheHomography(string name)
    {
        Truth truth = Repository.Truth(name);
        (Vec2 foot, double height) = truth.RodPlane().CameraPosition();
        Assert.Equal(truth.Camera.Position[0], foot.X, 0.5);
        Assert.Equal(truth.Camera.Position[1], foot.Y, 0.5);
        Assert.Equal(truth.Camera.Position[2], height, 0.5);
    }
}

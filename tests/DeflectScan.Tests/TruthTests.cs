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
}

using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Blank;
using OpenCvSharp;

namespace DeflectScan.Tests.Tracing.Blank;

/// <summary>The same scenes seen otherwise: the axis has to be found there, too, against the exact shape carried over.</summary>
public class AxisVariantTests
{
    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void ARodThatPointsLeftIsTraced() => Check("casting-top", v => v.Mirrored(), 0.1, 0.4);

    [Fact]
    public void APhotoTurnedByAQuarterIsTraced() => Check("one-card", v => v.Turned(), 0.1, 0.4);

    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void APhotoUpsideDownIsTraced() => Check("yaw12", v => v.Turned().Turned(), 0.1, 0.4);

    [Fact]
    public void ASmallPhotoIsTraced() => Check("rotated-exif", v => v.Scaled(0.5), 0.1, 0.4);

    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void ADarkNoisyPhotoIsTraced() => Check("wall-shadow", v => v.Exposed(0.4, 6), 0.1, 0.4);

    // The inverse of a photo is not a photo (its tones are not light), so its edges are read a little off: only the object is checked.
    [Theory]
    [InlineData("clutter-bench")]
    [InlineData("wall-shadow")]
    public void ALightBlankOnADarkWallIsTraced(string name) => Check(name, v => v.Inverted(), 0.35, 1);

    [Fact]
    public void ABlurredPhotoAsksForReview()
    {
        Truth truth = Repository.Truth("yaw12");
        Outcome<BlankAxis> outcome = Trace(Variant("yaw12", truth).Blurred(3), truth);
        Assert.Contains(outcome.Findings, f => f.Code == FindingCode.Blurred && f.Severity == Severity.Review);
    }

    private static PhotoVariant Variant(string name, Truth truth) => PhotoVariant.Of(Cv2.ImRead(Repository.Photo(name)), truth);

    private static Outcome<BlankAxis> Trace(PhotoVariant variant, Truth truth)
    {
        using UprightPhoto photo = AxisTruth.Wrap(variant.Bgr);
        return AxisTracer.Trace(photo, variant.Plane, new AxisOptions());
    }

    private static void Check(string name, Func<PhotoVariant, PhotoVariant> change, double medianPx, double most95Px)
    {
        Truth truth = Repository.Truth(name);
        PhotoVariant variant = change(Variant(name, truth));
        RodPlane plane = variant.Plane;
        TruthSample sample = truth.Blank.Samples[0];
        Vec2 onPlane = plane.ToPlane(variant.FromRendered(new Vec2(sample.U, sample.V)));
        Vec2 below = plane.ToPhoto(onPlane - new Vec2(0, 50));
        Assert.True(below.Y > plane.ToPhoto(onPlane).Y, "The changed plane has y up.");
        Outcome<BlankAxis> outcome = Trace(variant, truth);
        Assert.False(outcome.IsRefused);
        Assert.Empty(outcome.Findings);
        (double[] axisPx, _) = AxisTruth.Errors(outcome.Value, truth, plane, variant.FromRendered);
        Assert.True(AxisTruth.Share(axisPx, 0.5) <= medianPx, $"median {AxisTruth.Share(axisPx, 0.5):0.000} px");
        Assert.True(AxisTruth.Share(axisPx, 0.95) <= most95Px, $"95 % {AxisTruth.Share(axisPx, 0.95):0.000} px");
    }
}

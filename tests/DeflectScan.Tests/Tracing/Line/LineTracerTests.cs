using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;
using OpenCvSharp;

namespace DeflectScan.Tests.Tracing.Line;

/// <summary>Against the exact contacts in the truth files of rendered photographs.</summary>
public class LineTracerTests
{
    [Theory]
    [InlineData("clean-spinning", 11, 0.15)]
    [InlineData("casting-top", -7, 0.15)]
    [InlineData("wall-shadow", -10, 0.15)]
    public void EveryRingPointIsFoundAndNoOther(string name, double tipErrorMm, double normalErrorPx)
    {
        Truth truth = Repository.Truth(name);
        RodPlane plane = truth.RodPlane();
        using UprightPhoto photo = PhotoOpener.Open(Repository.Photo(name), PhotoLimits.Default).Value!;
        Outcome<LineTrace> outcome = LineTracer.Trace(photo, plane, TruthAxis.Of(truth, tipErrorMm, normalErrorPx), LineOptions.Default);
        Assert.False(outcome.IsRefused);
        LineTrace trace = outcome.Value;
        Assert.DoesNotContain(outcome.Findings, f => f.Severity != Severity.Note);
        Assert.Equal(truth.Side, trace.Side == BendSide.Inside ? "inside" : "outside");
        Assert.Equal(truth.Guides.Count, trace.Rings.Count);
        Assert.True(trace.Rings[^1].IsTip);
        Assert.Equal(trace.Rings.Count - 1, trace.SegmentSources.Count);
        double[] errors = [.. trace.Rings.Select((r, i) => plane.ToPhoto(r.ContactMm).DistanceTo(new Vec2(truth.Guides[i].ContactPx[0], truth.Guides[i].ContactPx[1])))];
        Assert.All(errors, e => Assert.True(e < 4, $"a ring point is {e:0.0} px off"));
        Assert.True(errors.Order().ElementAt(errors.Length / 2) < 1.0, $"median {errors.Order().ElementAt(errors.Length / 2):0.00} px");
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData("thin-braid", 9, 0.15)]
    [InlineData("yaw12", 12, 0.15)]
    [InlineData("clean-spinning", 0, 0)]
    [InlineData("casting-top", 0, 0)]
    [InlineData("rotated-exif", 5, 0.15)]
    [InlineData("one-card", 0, 0)]
    public void EveryRingPointIsFoundAndNoOtherMore(string name, double tipErrorMm, double normalErrorPx) => EveryRingPointIsFoundAndNoOther(name, tipErrorMm, normalErrorPx);

    [Fact]
    public void AMirroredRodGivesTheMirroredRingPoints()
    {
        Truth truth = Repository.Truth("clean-spinning");
        RodPlane plane = truth.RodPlane();
        using UprightPhoto photo = PhotoOpener.Open(Repository.Photo("clean-spinning"), PhotoLimits.Default).Value!;
        LineTrace asIs = LineTracer.Trace(photo, plane, TruthAxis.Of(truth), LineOptions.Default).Value!;
        using UprightPhoto turned = new(photo.Info, photo.Bgr.Flip(FlipMode.Y));
        LineTrace mirrored = LineTracer.Trace(turned, Mirrored(truth, photo.Info.WidthPx), TruthAxis.Of(truth, mirrored: true), LineOptions.Default).Value!;
        Assert.Equal(asIs.Side, mirrored.Side);
        Assert.Equal(asIs.Rings.Count, mirrored.Rings.Count);
        for (int i = 0; i < asIs.Rings.Count; i++)
        {
            Vec2 m = mirrored.Rings[i].ContactMm;
            Assert.True(asIs.Rings[i].ContactMm.DistanceTo(new Vec2(-m.X, m.Y)) < 0.5, $"ring {i + 1} of the mirrored rod lies elsewhere");
        }
    }

    [Fact]
    public void AWrongCountGivenIsPutUpForReview()
    {
        Truth truth = Repository.Truth("clean-spinning");
        using UprightPhoto photo = PhotoOpener.Open(Repository.Photo("clean-spinning"), PhotoLimits.Default).Value!;
        Outcome<LineTrace> outcome = LineTracer.Trace(
            photo, truth.RodPlane(), TruthAxis.Of(truth), LineOptions.Default with { ExpectedGuides = truth.Guides.Count + 1 });
        Assert.Contains(outcome.Findings, f => f is { Code: FindingCode.GuidesUncertain, Severity: Severity.Review });
    }

    [Fact]
    public void APhotoWithoutALineIsRefused()
    {
        Truth truth = Repository.Truth("clean-spinning");
        using UprightPhoto photo = PhotoOpener.Open(Repository.Photo("clean-spinning"), PhotoLimits.Default).Value!;
        using UprightPhoto empty = new(photo.Info, new Mat(photo.Bgr.Size(), MatType.CV_8UC3, new Scalar(190, 195, 200)));
        Cv2.Randn(empty.Bgr, new Scalar(190, 195, 200), new Scalar(3, 3, 3));
        Outcome<LineTrace> outcome = LineTracer.Trace(empty, truth.RodPlane(), TruthAxis.Of(truth), LineOptions.Default);
        Assert.True(outcome.IsRefused);
        Assert.Equal(FindingCode.LineNotSeen, outcome.Findings[0].Code);
    }

    /// <summary>The truth's plane seen in a mirror: plane x and photo x negated.</summary>
    private static RodPlane Mirrored(Truth truth, int width)
    {
        double[][] r = truth.Camera.R;
        double[] t = truth.Camera.T;
        double[] k = truth.Camera.Distortion;
        double[] h = [r[0][0], -r[0][1], -t[0], -r[1][0], r[1][1], t[1], -r[2][0], r[2][1], t[2]];
        Vec2 principal = new(width - 1 - truth.Camera.K[0][2], truth.Camera.K[1][2]);
        return new RodPlane(new CameraModel(truth.Camera.K[0][0], principal, k[0], k[1], k[2], -k[3], k[4]), h);
    }
}

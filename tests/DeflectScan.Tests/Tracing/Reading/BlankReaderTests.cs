using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Tests.Tracing.Line;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Reading;
using OpenCvSharp;

namespace DeflectScan.Tests.Tracing.Reading;

/// <summary>The way of the blank that is proposed before it is measured: against the exact axis in the truth files of rendered photographs.</summary>
public class BlankReaderTests
{
    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("casting-top")]
    [InlineData("clutter-bench")]
    [InlineData("one-card")]
    [InlineData("yaw12")]
    public void The_likeliest_way_is_the_blanks(string name)
    {
        Truth truth = Repository.Truth(name);
        RodPlane plane = truth.RodPlane();
        BlankAxis axis = TruthAxis.Of(truth);
        using UprightPhoto photo = PhotoOpener.Open(Repository.Photo(name), PhotoLimits.Default).Value!;
        IReadOnlyList<BlankProposal> proposals = BlankReader.Read(photo.Bgr, truth.Camera.MmPerPxCentre);
        Assert.NotEmpty(proposals);
        Assert.Equal(proposals.OrderByDescending(p => p.MeanLogProbability), proposals);
        BlankProposal best = proposals[0];
        Assert.InRange(best.MeanLogProbability, -0.5, 0);
        Vec2[] points = [.. best.PointsPx.Select(plane.ToPlane)];
        double butt = axis.Curve.Nearest(points[0]).S;
        double tip = axis.Curve.Nearest(points[^1]).S;
        Assert.True(Math.Abs(tip) < 20, $"the way ends {tip:0} mm from the tip");
        Assert.True(Math.Abs(butt - axis.Curve.Length) < 80, $"the way begins {axis.Curve.Length - butt:0} mm from where the blank comes out of the handle");
        double[] off = [.. points.Select(p => axis.Curve.Nearest(p)).Where(n => n.S > 0 && n.S < axis.Curve.Length).Select(n => Math.Abs(n.Offset)).Order()];
        Assert.True(off[off.Length / 2] < 2, $"{off[off.Length / 2]:0.0} mm off at the median");
        Assert.True(off[(int)(0.95 * off.Length)] < 6, $"{off[(int)(0.95 * off.Length)]:0.0} mm off at the 95th percentile");
    }

    [Fact]
    public void On_a_bare_wall_no_sure_way_is_proposed()
    {
        using Mat wall = new(1200, 1600, MatType.CV_8UC3);
        Cv2.Randn(wall, new Scalar(190, 195, 200), new Scalar(3, 3, 3));
        Assert.DoesNotContain(BlankReader.Read(wall, 1), p => p.MeanLogProbability > -0.5);
    }
}

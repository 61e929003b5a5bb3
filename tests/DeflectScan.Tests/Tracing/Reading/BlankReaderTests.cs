using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Tests.Tracing.Line;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Reading;
using OpenCvSharp;

namespace DeflectScan.Tests.Tracing.Reading;

/// <summary>
/// The way of the blank that is proposed before it is measured: against the exact axis in the truth files of rendered photographs. Its ends need be no
/// nearer than 60 mm, within which a bar that was followed on the photo is taken for the one proposed.
/// </summary>
public class BlankReaderTests
{
    private const double EndsMm = 60;

    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("casting-top")]
    [InlineData("clutter-bench")]
    [InlineData("one-card")]
    [InlineData("yaw12")]
    public void One_of_the_two_likeliest_ways_is_the_blanks_from_handle_to_tip_and_the_first_lies_on_it(string name)
    {
        Truth truth = Repository.Truth(name);
        BlankAxis axis = TruthAxis.Of(truth);
        using UprightPhoto photo = PhotoOpener.Open(Repository.Photo(name), PhotoLimits.Default).Value!;
        IReadOnlyList<BlankProposal> proposals = BlankReader.Read(photo.Bgr, truth.Camera.MmPerPxCentre);
        Assert.NotEmpty(proposals);
        Assert.InRange(proposals[0].MeanLogProbability, -0.5, 0);
        Seen[] seen = [.. proposals.Select(p => Seen.Of(p, truth.RodPlane(), axis))];
        Assert.True(seen[0].MedianMm < 2, $"the likeliest way is {seen[0].MedianMm:0.0} mm off at the median");
        Assert.True(seen[0].P95Mm < 6, $"the likeliest way is {seen[0].P95Mm:0.0} mm off at the 95th percentile");
        Assert.True(
            seen.Take(2).Any(s => Math.Abs(s.TipMm) < EndsMm && Math.Abs(s.ButtMm) < EndsMm && s.MedianMm < 2 && s.P95Mm < 6),
            string.Join("; ", seen.Select((s, i) => $"way {i + 1} ({proposals[i].MeanLogProbability:0.00}) ends {s.TipMm:0} mm from the tip and begins {s.ButtMm:0} mm from the handle")));
    }

    [Fact]
    public void On_a_bare_wall_no_sure_way_is_proposed()
    {
        using Mat wall = new(1200, 1600, MatType.CV_8UC3);
        Cv2.Randn(wall, new Scalar(190, 195, 200), new Scalar(3, 3, 3));
        Assert.DoesNotContain(BlankReader.Read(wall, 1), p => p.MeanLogProbability > -0.5);
    }

    /// <summary>How a way lies beside the true axis, mm.</summary>
    private sealed record Seen(double TipMm, double ButtMm, double MedianMm, double P95Mm)
    {
        public static Seen Of(BlankProposal way, RodPlane plane, BlankAxis axis)
        {
            Vec2[] points = [.. way.PointsPx.Select(plane.ToPlane)];
            double[] off = [.. points.Select(p => axis.Curve.Nearest(p)).Where(n => n.S > 0 && n.S < axis.Curve.Length).Select(n => Math.Abs(n.Offset)).Order()];
            if (off.Length == 0)
                return new Seen(double.PositiveInfinity, double.PositiveInfinity, double.PositiveInfinity, double.PositiveInfinity);
            double butt = axis.Curve.Length - axis.Curve.Nearest(points[0]).S;
            return new Seen(axis.Curve.Nearest(points[^1]).S, butt, off[off.Length / 2], off[(int)(0.95 * (off.Length - 1))]);
        }
    }
}

using DeflectScan.Accuracy.Compare;
using DeflectScan.Geometry;
using DeflectScan.Scenes;
using OpenCvSharp;

namespace DeflectScan.Tests.Pipeline;

/// <summary>The cord may hide the line that hangs from the tip-top: its ring is then placed where it is read, less surely.</summary>
[Collection(Measured.Collection)]
public class HiddenHangingLineTests
{
    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData("students-few", MeasurementStatus.Ok)]
    [InlineData("wall-shadow", MeasurementStatus.Ok)] // the tip-top's ring is read by itself
    public void Tip_is_placed_where_the_line_ends_and_the_stations_hold_what_they_state_more(string name, MeasurementStatus status) => Tip_is_placed_where_the_line_ends_and_the_stations_hold_what_they_state(name, status);

    [Theory]
    [InlineData("clean-spinning", MeasurementStatus.Ok)]
    public void Tip_is_placed_where_the_line_ends_and_the_stations_hold_what_they_state(string name, MeasurementStatus status)
    {
        using Mat bgr = Cv2.ImRead(Repository.Photo(name));
        Truth truth = Repository.Truth(name);
        Hide(bgr, At(truth.Guides[^1].ContactPx), At(truth.Line.HangsToPx!));
        Measurement hidden = Measured.Pixels(bgr);
        Measurement seen = Measured.Photo(name);
        PhotoComparison compared = Comparison.Of(name, hidden, truth);
        Assert.Equal(status, hidden.Status);
        Assert.Empty(compared.Wrong);
        Assert.All(compared.Stations, s => Assert.True(s.IsCovered, $"station {s.Where} off by {s.Error:0.0} mm"));
        Assert.All(hidden.Guides.Zip(seen.Guides).SkipLast(1), g => Assert.True(g.First.Station.UncertaintyMm > g.Second.Station.UncertaintyMm));
    }

    [Theory]
    [InlineData("clean-spinning", 640, 75)]
    public void What_stands_before_the_blank_does_not_pass_for_its_tip(string name, double fromTipMm, int radiusPx)
    {
        using Mat bgr = Cv2.ImRead(Repository.Photo(name));
        Truth truth = Repository.Truth(name);
        double butt = truth.Blank.LengthMm - fromTipMm;
        var at = truth.Blank.Samples.MinBy(s => Math.Abs(s.S - butt))!;
        Cv2.Circle(bgr, new Point((int)at.U, (int)at.V), radiusPx, new Scalar(190, 165, 95), -1, LineTypes.AntiAlias);
        Measurement m = Measured.Pixels(bgr);
        Assert.NotEqual(MeasurementStatus.Ok, m.Status);
        Assert.NotEmpty(Measured.Codes(m));
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData("students-few", 300, 60)]
    [InlineData("clean-spinning", 100, 45)]
    [InlineData("loads-light", 100, 45)]
    public void What_stands_before_the_blank_does_not_pass_for_its_tip_more(string name, double fromTipMm, int radiusPx) => What_stands_before_the_blank_does_not_pass_for_its_tip(name, fromTipMm, radiusPx);

    private static Vec2 At(IReadOnlyList<double> px) => new(px[0], px[1]);

    // Moves the wall beside the line over it, from 4 px below the ring to below the weight's hook.
    private static void Hide(Mat bgr, Vec2 from, Vec2 to)
    {
        int top = (int)from.Y + 5;
        int left = (int)Math.Min(from.X, to.X) - 6;
        int width = (int)Math.Abs(from.X - to.X) + 13;
        int height = (int)(to.Y - from.Y) + 10;
        using Mat line = bgr.SubMat(new Rect(left, top, width, height));
        using Mat wall = bgr.SubMat(new Rect(left + (2 * width), top, width, height)).Clone();
        wall.CopyTo(line);
    }
}

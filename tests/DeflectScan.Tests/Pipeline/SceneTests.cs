using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Tracing;

namespace DeflectScan.Tests.Pipeline;

/// <summary>Rendered scenes that no photograph in the set shows: rods that point left, light blanks on dark walls, layouts changed on one rod.</summary>
[Collection(Measured.Collection)]
public class SceneTests
{
    private static readonly SceneOptions Plain = new() { Seed = 11, WidthPx = 2592, HeightPx = 1944, LineMm = 0.4 };

    private static readonly SceneOptions Light = Plain with
    {
        Seed = 13,
        BlankColour = new Vector3(0.75f, 0.74f, 0.70f),
        WallColour = new Vector3(0.05f, 0.055f, 0.06f),
        LineColour = new Vector3(0.8f, 0.35f, 0.04f),
    };

    public static TheoryData<string> Kinds => ["plain", "left", "casting"];

    public static TheoryData<string> MoreKinds => ["left-other-side", "light-on-dark", "casting-left"];

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [MemberData(nameof(MoreKinds))]
    public void Scene_is_measured_and_no_wrong_figure_stands_under_ok_more(string kind) => Scene_is_measured_and_no_wrong_figure_stands_under_ok(kind);

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Scene_is_measured_and_no_wrong_figure_stands_under_ok(string kind)
    {
        MeasuredScene scene = Measured.Scene(Options(kind));
        if (scene.Measurement.Status == MeasurementStatus.Ok)
            Assert.Empty(scene.Compared.Wrong);
        Assert.NotEqual(MeasurementStatus.Refused, scene.Measurement.Status);
        Assert.InRange(scene.Compared.AxisSpan, 0.95, 1);
        Assert.InRange(Accuracy.Compare.Spread.Of(scene.Compared.AxisPx).P95, 0, 1);
        Assert.Equal(Options(kind).Side, scene.Measurement.Side);
    }

    [Theory]
    [InlineData("plain")]
    [InlineData("left")]
    public void Plain_scene_leaves_no_doubt_whichever_way_the_rod_points(string kind)
    {
        MeasuredScene scene = Measured.Scene(Options(kind));
        Assert.Empty(scene.Compared.Wrong);
        Assert.Empty(scene.Compared.Codes);
        Assert.True(scene.Compared.LargestGapRight);
        Assert.True(scene.Compared.LargestBowRight);
    }

    /// <summary>
    /// Light blanks whose one rim lies in its own shade before a dark wall: it cannot be seen where they end, so diameters and gaps come out
    /// wrong by more than elsewhere, and must say so. Where next to nothing of the thickness shows, it is put up for review.
    /// </summary>
    [Theory]
    [InlineData(1009, 9)]
    public void A_rim_in_its_own_shade_widens_what_is_stated(int seed, int of24)
    {
        MeasuredScene scene = Measured.Scene(RandomScenes.Good(seed, of24 / 23.0));
        Assert.NotEqual(MeasurementStatus.Refused, scene.Measurement.Status);
        if (scene.Measurement.Status != MeasurementStatus.Ok)
        {
            Assert.Contains("low-contrast", Measured.Codes(scene.Measurement));
            return;
        }

        Assert.All(scene.Measurement.Blank!.Axis.Where(a => a.SMm > 100), a => Assert.True(a.DiameterMm > 0.8, $"{a.DiameterMm:0.0} mm thick at {a.SMm:0} mm"));
        Assert.Empty(scene.Compared.Wrong);
        Assert.All(scene.Compared.Gaps, g => Assert.True(g.Size < 1.25 * g.Uncertainty, $"gap {g.Where} off by {g.Error:0.0} mm, {g.Uncertainty:0.0} stated"));
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData(1021, 21)]
    public void A_rim_in_its_own_shade_widens_what_is_stated_more(int seed, int of24) => A_rim_in_its_own_shade_widens_what_is_stated(seed, of24);

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData("casting-left")]
    public void Every_guide_outside_the_bend_is_found_and_no_other_more(string kind) => Every_guide_outside_the_bend_is_found_and_no_other(kind);

    // The guides that the scene was rendered with.
    [Theory]
    [InlineData("casting")]
    public void Every_guide_outside_the_bend_is_found_and_no_other(string kind)
    {
        MeasuredScene scene = Measured.Scene(Options(kind));
        Assert.Empty(scene.Compared.Guides.Missed);
        Assert.Empty(scene.Compared.Guides.False);
    }

    // Small photos: the line is a third of a pixel wide, wraps are hardly seen. The guides that the scenes were rendered with.
    [Theory]
    [InlineData(3108, 1)]
    public void Every_guide_of_a_small_photo_is_found_and_no_other(int seed, int of14)
    {
        MeasuredScene scene = Measured.Scene(RandomScenes.Good(seed, of14 / 14.0) with { WidthPx = 2160, HeightPx = 1624 });
        Assert.Empty(scene.Compared.Guides.Missed);
        Assert.Empty(scene.Compared.Guides.False);
        Assert.Empty(scene.Compared.Wrong);
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData(3110, 3)]
    public void Every_guide_of_a_small_photo_is_found_and_no_other_more(int seed, int of14) => Every_guide_of_a_small_photo_is_found_and_no_other(seed, of14);

    // The groove beside the hanging line once passed for cord and line.
    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void A_tip_where_a_groove_of_the_wall_passes_for_the_line_is_not_wrong_under_ok()
    {
        MeasuredScene scene = Measured.Scene(RandomScenes.Good(915, 15 / 23.0));
        if (scene.Measurement.Status == MeasurementStatus.Ok)
            Assert.Empty(scene.Compared.Wrong);
        Assert.NotEqual(MeasurementStatus.Refused, scene.Measurement.Status);
    }

    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void Moving_guides_never_changes_the_axis()
    {
        Measurement even = Measured.Scene(Plain).Measurement;
        Measurement moved = Measured.Scene(Plain with { Unevenness = 0.6 }).Measurement;
        Assert.Contains(even.Guides.Zip(moved.Guides), g => Math.Abs(g.First.StationMm - g.Second.StationMm) > 20);
        for (double s = 100; s < Math.Min(even.Blank!.TracedLengthMm, moved.Blank!.TracedLengthMm); s += 100)
        {
            double a = FromTipMm(even, s);
            double b = FromTipMm(moved, s);
            double allowed = Math.Sqrt(Square(Allowed(even, a)) + Square(Allowed(moved, b)));
            Assert.True(Math.Abs(a - b) <= allowed, $"{s:0} mm along the blank: {a:0.00} and {b:0.00} mm from the tip, {allowed:0.00} allowed");
        }
    }

    private static SceneOptions Options(string kind) => kind switch
    {
        "plain" => Plain,
        "left" => Plain with { PointsLeft = true },
        "left-other-side" => Plain with { Seed = 12, PointsLeft = true, YawDeg = -11, Guides = 9 },
        "light-on-dark" => Light,
        "casting" => Plain with { Seed = 14, Side = BendSide.Outside, Guides = 9, YawDeg = -9 },
        "casting-left" => Plain with { Seed = 15, Side = BendSide.Outside, Guides = 8, PointsLeft = true },
        _ => throw new ArgumentOutOfRangeException(nameof(kind)),
    };

    // Straight distance from the tip to the axis at a station: the same in whatever frame the axis is given.
    private static double FromTipMm(Measurement m, double station)
    {
        AxisSample[] axis = [.. m.Blank!.Axis];
        int i = Array.FindIndex(axis, p => p.SMm >= station);
        double t = (station - axis[i - 1].SMm) / (axis[i].SMm - axis[i - 1].SMm);
        Vec2 at = axis[i - 1].Mm + ((axis[i].Mm - axis[i - 1].Mm) * t);
        return at.DistanceTo(axis[0].Mm);
    }

    // What the document states of the scale, and the width of a pixel for where the tip is seen.
    private static double Allowed(Measurement m, double mm) =>
        Math.Sqrt(Square(m.Calibration!.ScaleUncertaintyPercent / 100 * mm) + Square(m.Calibration.MmPerPx));

    private static double Square(double v) => v * v;
}

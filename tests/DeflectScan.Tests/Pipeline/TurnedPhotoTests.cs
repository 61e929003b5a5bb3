using DeflectScan.Measuring;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Scenes.Rendering.Paint;
using DeflectScan.Tests.Photos;
using OpenCvSharp;

namespace DeflectScan.Tests.Pipeline;

/// <summary>The pixels of a photo turned, without EXIF, or made coarser: the same rod.</summary>
[Collection(Measured.Collection)]
public class TurnedPhotoTests
{
    private const string Name = "yaw12";

    [Theory]
    [InlineData(RotateFlags.Rotate90Counterclockwise)]
    public void Turned_photo_gives_the_same_figures_within_the_stated_uncertainties(RotateFlags turn)
    {
        Measurement upright = Measured.Photo(Name);
        using Mat bgr = Cv2.ImRead(Repository.Photo(Name));
        using Mat turned = new();
        Cv2.Rotate(bgr, turned, turn);
        Measurement m = Measured.Pixels(turned);

        // Without EXIF nothing says which way is down, and nothing needs to.
        Assert.Equal(MeasurementStatus.Ok, m.Status);
        Assert.Equal(upright.Side, m.Side);
        Assert.Equal(upright.Guides.Count, m.Guides.Count);
        Assert.All(upright.Guides.Zip(m.Guides), g =>
            Within(g.First.StationMm, g.First.Station.UncertaintyMm, g.Second.StationMm, g.Second.Station.UncertaintyMm));
        Assert.All(upright.Intervals.Zip(m.Intervals), i =>
        {
            Within(i.First.GapMm, i.First.Gap.UncertaintyMm, i.Second.GapMm, i.Second.Gap.UncertaintyMm);
            Within(i.First.BowMm, i.First.Bow.UncertaintyMm, i.Second.BowMm, i.Second.Bow.UncertaintyMm);
        });
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData(RotateFlags.Rotate90Clockwise)]
    [InlineData(RotateFlags.Rotate180)]
    public void Turned_photo_gives_the_same_figures_within_the_stated_uncertainties_more(RotateFlags turn) => Turned_photo_gives_the_same_figures_within_the_stated_uncertainties(turn);

    /// <summary>A line that the eye hardly sees in front of its background: no station is off by more than 2 mm and more than is stated.</summary>
    [Theory]
    [InlineData(RotateFlags.Rotate180)]
    public void Stations_on_a_faint_line_hold(RotateFlags turn)
    {
        using Mat bgr = Cv2.ImRead(Repository.Photo("clutter-bench"));
        using Mat turned = new();
        Cv2.Rotate(bgr, turned, turn);
        Truth truth = Repository.Truth("clutter-bench");
        using TempFolder folder = new();
        SceneOptions file = new() { JpegQuality = 92, WritesFocal = true, Focal35Mm = truth.Image.Focal35MmExif!.Value };
        Measurement m = MeasurePipeline.Measure(folder.File("photo.jpg", PhoneFile.Jpeg(file, turned)), MeasureOptions.Default);

        Assert.Equal(truth.Guides.Count, m.Guides.Count);
        Assert.All(truth.Guides.Zip(m.Guides), g => Assert.True(
            Math.Abs(g.First.FromTipMm - g.Second.StationMm) <= Math.Max(2, g.Second.Station.UncertaintyMm),
            $"{g.First.FromTipMm:0.0} measured as {g.Second.StationMm:0.0} ± {g.Second.Station.UncertaintyMm:0.0} mm"));
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData(RotateFlags.Rotate90Counterclockwise)]
    public void Stations_on_a_faint_line_hold_more(RotateFlags turn) => Stations_on_a_faint_line_hold(turn);

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData("thin-braid")]
    [InlineData("wall-shadow")]
    public void Finer_photo_never_gives_fewer_guides(string name)
    {
        using Mat bgr = Cv2.ImRead(Repository.Photo(name));
        int[] found = [GuidesAt(bgr, 0.6), GuidesAt(bgr, 0.8), Measured.Photo(name).Guides.Count];
        Assert.Equal(found.Order(), found);
        Assert.Equal(Repository.Truth(name).Guides.Count, found[^1]);
    }

    private static int GuidesAt(Mat bgr, double scale)
    {
        using Mat coarse = new();
        Cv2.Resize(bgr, coarse, default, scale, scale, InterpolationFlags.Area);
        return Measured.Pixels(coarse).Guides.Count;
    }

    private static void Within(double a, double ua, double b, double ub) =>
        Assert.True(Math.Abs(a - b) <= Math.Sqrt((ua * ua) + (ub * ub)), $"{a:0.00} ± {ua:0.00} and {b:0.00} ± {ub:0.00} mm");
}

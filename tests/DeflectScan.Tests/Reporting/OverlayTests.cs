using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Reporting;
using DeflectScan.Scenes;
using OpenCvSharp;

namespace DeflectScan.Tests.Reporting;

public class OverlayTests
{
    private static string Folder(string name) => Path.Combine(Repository.TestImages, name);

    [Fact]
    public void TheSamePhotoGivesTheSameBytesWithOneThreadAndWithMany()
    {
        using UprightPhoto photo = ScenePhoto.Open(Folder("clean-spinning"));
        Measurement m = TruthMeasurement.From(Repository.Truth("clean-spinning"), photo.Info);
        int threads = Cv2.GetNumThreads();
        try
        {
            byte[] many = Overlay.Draw(photo, m);
            Cv2.SetNumThreads(1);
            Assert.Equal(many, Overlay.Draw(photo, m));
        }
        finally
        {
            Cv2.SetNumThreads(threads);
        }
    }

    [Theory]
    [InlineData("casting-top", 2400)]
    [InlineData("rotated-exif", 1200)]
    public void TheLongSideIsWhatWasAskedForAndNoMore(string name, int side)
    {
        using UprightPhoto photo = ScenePhoto.Open(Folder(name));
        Measurement m = TruthMeasurement.From(Repository.Truth(name), photo.Info);
        using Mat drawn = Cv2.ImDecode(Overlay.Draw(photo, m, new OverlayOptions(side)), ImreadModes.Color);
        Assert.InRange(Math.Max(drawn.Cols, drawn.Rows), side - 8, side + 2);
    }

    [Fact]
    public void ASmallPhotoIsNotEnlarged()
    {
        using UprightPhoto photo = ScenePhoto.Open(Folder("yaw12"));
        using Mat small = new();
        Cv2.Resize(photo.Bgr, small, new OpenCvSharp.Size(800, 600), 0, 0, InterpolationFlags.Area);
        using UprightPhoto little = new(photo.Info with { WidthPx = 800, HeightPx = 600 }, small.Clone());
        Measurement refused = Refused(little, "No scale card was found: stand a card in the rod's plane.");
        using Mat drawn = Cv2.ImDecode(Overlay.Draw(little, refused), ImreadModes.Color);
        Assert.Equal(800, drawn.Cols);
    }

    [Fact]
    public void ARefusalStillDrawsThePhotoUnchangedUnderItsReason()
    {
        using UprightPhoto photo = ScenePhoto.Open(Folder("bad-no-card"));
        string reason = "No scale card was found: stand at least one printed card upright in the rod's plane and take the photo again.";
        using Mat once = Cv2.ImDecode(Overlay.Draw(photo, Refused(photo, reason)), ImreadModes.Color);
        using Mat twice = Cv2.ImDecode(Overlay.Draw(photo, Refused(photo, reason, "The photo is blurred: hold the camera still.")), ImreadModes.Color);
        Assert.True((double)twice.Rows / twice.Cols > (double)once.Rows / once.Cols, "a second reason takes a strip of its own");
        using Mat expected = new();
        int height = (int)Math.Round(photo.Bgr.Rows * (double)once.Cols / photo.Bgr.Cols);
        Cv2.Resize(photo.Bgr, expected, new OpenCvSharp.Size(once.Cols, height), 0, 0, InterpolationFlags.Area);
        using Mat shown = new(once, new Rect(0, once.Rows - height, once.Cols, height));
        // Two ways to shrink differ by a little at every edge; a mark of any kind would differ by far more.
        Assert.True(Cv2.Norm(expected, shown, NormTypes.L1) / (3.0 * expected.Rows * expected.Cols) < 2);
        Assert.True(Cv2.Norm(expected, shown, NormTypes.INF) < 90);
    }

    /// <summary>The marks lie where the truth says: near each ring contact the picture differs from the bare photo, and white is there.</summary>
    [Fact]
    public void RingsAreDrawnAtTheRings()
    {
        using UprightPhoto photo = ScenePhoto.Open(Folder("wall-shadow"));
        Truth truth = Repository.Truth("wall-shadow");
        Measurement m = TruthMeasurement.From(truth, photo.Info);
        using Mat drawn = Cv2.ImDecode(Overlay.Draw(photo, m), ImreadModes.Color);
        double scale = (double)drawn.Cols / photo.Bgr.Cols;
        using Mat bare = Cv2.ImDecode(Overlay.Draw(photo, m with { Guides = [], Intervals = [], Largest = null, Suggestion = null, Blank = null }), ImreadModes.Color);
        // Only the head strip stands above the photo; its height is what is left when the photo and the foot are taken off the picture.
        double top = HeadHeight(drawn, photo, scale);
        foreach (TruthGuide g in truth.Guides)
        {
            Vec2 at = new((g.ContactPx[0] + 0.5) * scale, ((g.ContactPx[1] + 0.5) * scale) + top);
            double radius = 4.6 * drawn.Cols / 1000.0;
            Vec3b ring = drawn.At<Vec3b>((int)at.Y, (int)(at.X - radius));
            Assert.True(ring.Item0 > 150 && ring.Item1 > 150 && ring.Item2 > 150, $"guide {g.Index}: no ring at {at}");
        }

        Assert.NotEqual(bare.Rows, drawn.Rows);
    }

    private static double HeadHeight(Mat drawn, UprightPhoto photo, double scale)
    {
        // The strips' ground is one colour over the first column: the photo begins where it ends.
        Vec3b ground = drawn.At<Vec3b>(0, 0);
        int y = 0;
        while (drawn.At<Vec3b>(y, 0) == ground)
            y++;
        Assert.True(y + (photo.Bgr.Rows * scale) <= drawn.Rows);
        return y;
    }

    private static Measurement Refused(UprightPhoto photo, params string[] reasons) => new(
        "0.1.0", photo.Info, MeasurementStatus.Refused, [.. reasons.Select(r => Finding.Refuse(FindingCode.CardMissing, r))],
        null, null, null, [], null, [], null, null);
}

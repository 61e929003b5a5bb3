using DeflectScan.Checking;
using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Tests.Calibration;
using OpenCvSharp;

namespace DeflectScan.Tests.Checking;

/// <summary>The look before the work, against what is known of the test photos and against faults made on purpose.</summary>
public class PhotoCheckerTests
{
    [Fact]
    public void AGoodPhotoHasNothingToDo()
    {
        CheckReport report = PhotoChecker.Check(Repository.Photo("clean-spinning"));
        Assert.Equal(CheckVerdict.Good, report.Verdict);
        Assert.Equal(["cards", "tilt", "lens", "sharpness", "light", "rod", "contrast", "resolution", "room", "line"], report.Items.Select(i => i.Name));
    }

    [Theory]
    [InlineData("bad-no-card", CheckVerdict.Useless, FindingCode.CardMissing)]
    [InlineData("bad-tip-cropped", CheckVerdict.Useless, FindingCode.TipOutsideFrame)]
    [InlineData("one-card", CheckVerdict.Doubtful, FindingCode.CardOffPlane)]
    [InlineData("yaw12", CheckVerdict.Doubtful, FindingCode.TiltLarge)]
    public void ThePhotosKnownFaultIsNamed(string name, CheckVerdict verdict, FindingCode code)
    {
        CheckReport report = PhotoChecker.Check(Repository.Photo(name));
        Assert.Equal(verdict, report.Verdict);
        CheckItem item = Assert.Single(report.ToDo, i => i.Code == code);
        Assert.Equal(verdict, item.Verdict);
        Assert.NotEmpty(item.Do);
    }

    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("bad-no-card")]
    [InlineData("one-card")]
    public void TheCardsAloneAreCheckedAsInTheWhole(string name)
    {
        CheckReport whole = PhotoChecker.Check(Repository.Photo(name)), cards = PhotoChecker.CheckCards(Repository.Photo(name));
        Assert.Equal((CheckReach.Cards, CheckReach.Whole), (cards.Reach, whole.Reach));
        Assert.NotEmpty(cards.Items);
        Assert.Equal(whole.Items.Take(cards.Items.Count), cards.Items);
        Assert.DoesNotContain(cards.Items, i => i.Name is "rod" or "line" or "contrast");
    }

    [Fact]
    public void AFileThatIsNoPhotoIsRefused()
    {
        CheckReport report = PhotoChecker.Check(Path.Combine(Repository.TestImages, "clean-spinning", "truth.json"));
        Assert.Equal((CheckVerdict.Useless, FindingCode.FileUnreadable), (report.Verdict, Assert.Single(report.Items).Code));
    }

    /// <summary>A normal blur of known sigma on a sharp photo: variances of blurs add.</summary>
    [Theory]
    [InlineData(1.8)]
    public void BlurIsMeasured(double sigmaPx)
    {
        using UprightPhoto sharp = TestPhoto.Open("clean-spinning");
        double before = Item(PhotoChecker.Check(sharp), "sharpness").Value!.Value;
        using UprightPhoto blurred = Changed(m => Cv2.GaussianBlur(m, m, default, sigmaPx));
        CheckItem item = Item(PhotoChecker.Check(blurred), "sharpness");
        Assert.Equal((CheckVerdict.Doubtful, FindingCode.Blurred), (item.Verdict, item.Code));
        double expected = Math.Sqrt((before * before) + (sigmaPx * sigmaPx));
        Assert.InRange(item.Value!.Value, 0.85 * expected, 1.15 * expected);
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData(1.2)]
    [InlineData(2.5)]
    public void BlurIsMeasuredMore(double sigmaPx) => BlurIsMeasured(sigmaPx);

    [Fact]
    public void StrongBlurWillNotDo()
    {
        using UprightPhoto blurred = Changed(m => Cv2.GaussianBlur(m, m, default, 4));
        Assert.Equal(CheckVerdict.Useless, Item(PhotoChecker.Check(blurred), "sharpness").Verdict);
    }

    [Fact]
    public void PoorLightIsSeen()
    {
        using UprightPhoto dim = Changed(m => m.ConvertTo(m, -1, 0.2, 10));
        CheckItem item = Item(PhotoChecker.Check(dim), "light");
        Assert.Equal((CheckVerdict.Doubtful, FindingCode.LowContrast), (item.Verdict, item.Code));
    }

    [Fact]
    public void TooFewPixelsAreSeen()
    {
        using UprightPhoto small = Changed(m => Cv2.Resize(m, m, default, 0.3, 0.3, InterpolationFlags.Area));
        Assert.Equal(CheckVerdict.Doubtful, Item(PhotoChecker.Check(small), "resolution").Verdict);
    }

    /// <summary>The line painted over with what lies beside it, by the truth.</summary>
    [Fact]
    public void AMissingLineIsSeen()
    {
        Truth truth = Repository.Truth("clean-spinning");
        using UprightPhoto bare = Changed(m =>
        {
            using Mat mask = new(m.Size(), MatType.CV_8UC1, Scalar.Black);
            Point[] path = [.. truth.Line.Vertices.Select(v => new Point((int)Math.Round(v.U), (int)Math.Round(v.V)))];
            Cv2.Polylines(mask, [path], isClosed: false, Scalar.White, thickness: 21);
            using Mat without = new();
            Cv2.MedianBlur(m, without, 71);
            without.CopyTo(m, mask);
        });
        CheckItem item = Item(PhotoChecker.Check(bare), "line");
        Assert.True(item.Verdict == CheckVerdict.Doubtful, $"{item}");
    }

    private static CheckItem Item(CheckReport report, string name) => Assert.Single(report.Items, i => i.Name == name);

    private static UprightPhoto Changed(Action<Mat> change)
    {
        using UprightPhoto photo = TestPhoto.Open("clean-spinning");
        Mat changed = photo.Bgr.Clone();
        change(changed);
        return TestPhoto.From(changed, photo.Info.FocalLength35Mm);
    }
}

using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using OpenCvSharp;

namespace DeflectScan.Tests.Calibration;

/// <summary>A cut-out keeps the focal length that the whole frame had; against a rendered photograph's exact camera.</summary>
public class CutPhotoTests
{
    /// <summary>Sizes that cameras write (common practice, no source), on their side and upright, and sizes of cut-outs.</summary>
    [Theory]
    [InlineData(4032, 3024, false)]
    [InlineData(3024, 4032, false)]
    [InlineData(6000, 4000, false)]
    [InlineData(3840, 2160, false)]
    [InlineData(3264, 1840, false)]
    [InlineData(2976, 2232, false)]
    [InlineData(3000, 3000, false)]
    [InlineData(3353, 2416, true)]
    [InlineData(2416, 3353, true)]
    [InlineData(4032, 3400, true)]
    [InlineData(4032, 900, true)]
    public void AShapeThatNoCameraWritesIsACutOut(int width, int height, bool cut) => Assert.Equal(cut, LensPrior.IsCut(TestPhoto.Info(width, height, 27)));

    /// <summary>The true lens of a cut-out lies within twice what is assumed of it, which it does not where the number is believed.</summary>
    [Fact]
    public void ACutOutsTrueLensIsAmongThoseAssumed()
    {
        Truth truth = Repository.Truth("students-few");
        double focal = truth.Camera.K[0][0];
        (Rect cut, double middle) = (new Rect(384, 239, 3353, 2416), truth.Camera.K[0][2]);
        LensPrior prior = LensPrior.For(TestPhoto.Info(cut.Width, cut.Height, truth.Image.Focal35MmExif!.Value), CalibrationOptions.Default);
        Assert.InRange(Sds(prior, 0, focal), 0, 2);
        Assert.InRange(Sds(prior, 1, middle - cut.X), 0, 2);
        LensPrior believed = LensPrior.For(TestPhoto.Info(3353, 2515, truth.Image.Focal35MmExif.Value), CalibrationOptions.Default);
        Assert.True(Sds(believed, 0, focal) > 5);
    }

    /// <summary>Cut-outs of 60 to 100 % of each side, anywhere in the frame, of any shape that no camera writes: the true lens is among those assumed.</summary>
    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("wall-shadow")]
    [InlineData("students-few")]
    public void TrueLensesOfRandomCutOutsAreAmongThoseAssumed(string name)
    {
        Truth truth = Repository.Truth(name);
        (int width, int height) = (truth.Image.Displayed[0], truth.Image.Displayed[1]);
        Random random = new(11);
        List<double> off = [];
        while (off.Count < 600)
        {
            (int w, int h) = ((int)(width * (0.6 + (0.4 * random.NextDouble()))), (int)(height * (0.6 + (0.4 * random.NextDouble()))));
            (int left, int top) = (random.Next(width - w + 1), random.Next(height - h + 1));
            PhotoInfo info = TestPhoto.Info(w, h, truth.Image.Focal35MmExif!.Value);
            if (!LensPrior.IsCut(info))
                continue;
            LensPrior prior = LensPrior.For(info, CalibrationOptions.Default);
            off.AddRange(Sds(prior, 0, truth.Camera.K[0][0]), Sds(prior, 1, truth.Camera.K[0][2] - left), Sds(prior, 2, truth.Camera.K[1][2] - top));
        }

        Assert.InRange(off.Count(d => d <= 2) / (double)off.Count, 0.9, 1);
        Assert.True(off.Max() < 4, $"one lies {off.Max():0.0} standard deviations off");
    }

    [Fact]
    public void APhotoThatWasCutIsMeasuredWithLessCertaintyAndSaysSo()
    {
        Rect cut = new(384, 239, 3353, 2416);
        (double whole, FindingCode[] none) = Scale(new Rect(0, 0, 4032, 3024));
        (double part, FindingCode[] said) = Scale(cut);
        Assert.True(part > whole);
        Assert.DoesNotContain(FindingCode.LensUnknown, none);
        Assert.Contains(FindingCode.LensUnknown, said);
    }

    private static (double ScaleUncertaintyPercent, FindingCode[] Codes) Scale(Rect cut)
    {
        using UprightPhoto photo = TestPhoto.Open("students-few");
        using Mat view = new(photo.Bgr, cut);
        using UprightPhoto part = TestPhoto.From(view.Clone(), Repository.Truth("students-few").Image.Focal35MmExif);
        Outcome<PlaneSolution> solved = PlaneSolver.Solve(CardFinder.Find(part), part.Info);
        return (solved.Value!.ScaleUncertaintyPercent, [.. solved.Findings.Select(f => f.Code)]);
    }

    private static double Sds(LensPrior prior, int index, double value) => Math.Abs(value - prior.Mean[index]) * Math.Sqrt(prior.Information[index, index]);
}

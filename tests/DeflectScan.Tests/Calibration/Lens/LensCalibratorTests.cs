using DeflectScan.Calibration;
using DeflectScan.Calibration.Lens;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using OpenCvSharp;
using Xunit.Abstractions;

namespace DeflectScan.Tests.Calibration.Lens;

/// <summary>The calibration against OpenCV's on the same corners, against a published result, and against known lenses.</summary>
public class LensCalibratorTests(ITestOutputHelper output)
{
    private static readonly bool[] WithoutK3 = [true, true, true, true, true, true, true, false];

    private static string[] Published => [.. Directory.GetFiles(Path.Combine(Repository.TestImages, "opencv"), "left??.jpg").Order(StringComparer.Ordinal)];

    /// <summary>
    /// left_intrinsics.yml of OpenCV's samples (Debian package opencv-doc): 535.916 px and 0.39259 px for these thirteen photographs, one
    /// badly found view included.
    /// </summary>
    [Fact]
    public void RealChessboardPhotographsGiveThePublishedFocalLength()
    {
        LensCalibration lens = LensCalibrator.FromFiles(Published, BoardPattern.Parse("9x6", 25)).Value!;
        output.WriteLine($"focal {lens.Profile.FocalPx:0.00} ± {2 * lens.Sd[0]:0.00} px, rms {lens.Profile.RmsPx:0.0000} px");
        Assert.Equal(13, lens.Views.Count);
        Assert.Equal(535.916, lens.Profile.FocalPx, 0.01 * 535.916);
        Assert.InRange(lens.Profile.RmsPx, 0.05, 0.39259);
        Assert.All(lens.Views, v => Assert.Equal(54, v.Corners));
    }

    /// <summary>OpenCV 4.13's calibrateCamera on the same corners of the real photographs, square pixels and k3 = 0 as ours.</summary>
    [Fact]
    public void OpenCvsCalibrationOfTheSameCornersAgrees()
    {
        BoardPattern board = BoardPattern.Parse("9x6", 25)!;
        List<BoardView> views = [];
        foreach (string file in Published)
        {
            using UprightPhoto photo = PhotoOpener.Open(file, PhotoLimits.Default).Value!;
            views.AddRange(BoardSearch.Find(photo, board));
        }

        (double[] theirs, double theirRms) = OpenCv(views, 640, 480);
        (double[] x, BoardPose[] poses) = LensStart.Of(views, 640, 480)!.Value;
        AdjustedLens ours = new LensAdjustment(views, WithoutK3, double.PositiveInfinity).Solve(x, poses)!;
        output.WriteLine($"ours {string.Join(' ', ours.X)} rms {ours.RmsPx}\nOpenCV's {string.Join(' ', theirs)} rms {theirRms}");
        double[] tolerance = [0.02, 0.02, 0.02, 1e-4, 5e-4, 1e-5, 1e-5, 0];
        for (int i = 0; i < LensModel.Count; i++)
            Assert.Equal(theirs[i], ours.X[i], tolerance[i]);
        Assert.Equal(theirRms, ours.RmsPx, 1e-4);
        AdjustedLens robust = new LensAdjustment(views, WithoutK3).Solve(x, poses)!;
        Assert.All(Enumerable.Range(0, 7), i => Assert.True(Math.Abs(robust.X[i] - theirs[i]) < 2.5 * Math.Sqrt(ours.Covariance[i, i])));
    }

    /// <summary>Many draws of noise on known boards: the errors' spread is the stated one (in the manner of JCGM 101).</summary>
    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void StatedUncertaintiesMatchTheErrors()
    {
        const int Draws = 40;
        double[] truth = [SyntheticBoards.Camera.FocalPx, SyntheticBoards.Camera.PrincipalPx.X, SyntheticBoards.Camera.PrincipalPx.Y, SyntheticBoards.Camera.K1, SyntheticBoards.Camera.K2, SyntheticBoards.Camera.P1, SyntheticBoards.Camera.P2];
        double[] squares = new double[7];
        for (int draw = 0; draw < Draws; draw++)
        {
            AdjustedLens lens = LensCalibrator.Adjust(new SyntheticBoards(draw).See(8, 0.15), SyntheticBoards.WidthPx, SyntheticBoards.HeightPx)!;
            for (int i = 0; i < 7; i++)
                squares[i] += Math.Pow(lens.X[i] - truth[i], 2) / lens.Covariance[i, i] / Draws;
        }

        output.WriteLine(string.Join(' ', squares.Select(s => Math.Sqrt(s).ToString("0.00"))));
        Assert.All(squares, s => Assert.InRange(Math.Sqrt(s), 0.7, 1.4)); // chi-square over 40 draws: 0.72 to 1.28 holds 99 %
    }

    [Fact]
    public void FewAndSimilarViewsAreWarnedOf()
    {
        PhotoInfo photo = TestPhoto.Info(SyntheticBoards.WidthPx, SyntheticBoards.HeightPx, null);
        LensCalibration good = Calibrate(new SyntheticBoards(1).See(14, 0.1));
        Assert.DoesNotContain(good.Warnings, w => w.Contains("views", StringComparison.Ordinal) || w.Contains("turned", StringComparison.Ordinal));
        BoardView[] some = new SyntheticBoards(2).See(4, 0.1);
        LensCalibration copies = Calibrate([.. some, .. some.Select(v => v with { Photo = "again.jpg" })]);
        Assert.Contains(copies.Warnings, w => w.StartsWith("4 of 8 views are nearly copies", StringComparison.Ordinal));
        Assert.Contains(Calibrate(some).Warnings, w => w.StartsWith("Only 4 views", StringComparison.Ordinal));
        Assert.Contains(Calibrate(new SyntheticBoards(3).See(12, 0.1, tiltDeg: 9)).Warnings, w => w.Contains("tilt the board", StringComparison.Ordinal));
        Assert.Contains(Calibrate(new SyntheticBoards(4).See(12, 0.1, spread: 0.2)).Warnings, w => w.Contains("of the picture", StringComparison.Ordinal));

        LensCalibration Calibrate(BoardView[] views) =>
            LensCalibrator.Calibrate([.. views.Select(v => (photo with { FileName = v.Photo }, (IReadOnlyList<BoardView>)[v]))], "test", []).Value!;
    }

    [Fact]
    public void ViewsThatFixNothingAreRefused()
    {
        PhotoInfo photo = TestPhoto.Info(SyntheticBoards.WidthPx, SyntheticBoards.HeightPx, null);
        BoardView[] square = new SyntheticBoards(5).See(5, 0.3, tiltDeg: 0.01);
        Outcome<LensCalibration> outcome = LensCalibrator.Calibrate([(photo, square)], null, []);
        Assert.True(outcome.IsRefused);
        Assert.True(LensCalibrator.Calibrate([(photo, square[..2])], null, []).IsRefused);
        Assert.True(LensCalibrator.FromFiles([Repository.Photo("bad-no-card")], null).IsRefused);
    }

    /// <summary>A camera held upright has the same lens: the views of a turned photo are brought back to the sensor.</summary>
    [Theory]
    [InlineData(6, RotateFlags.Rotate90Clockwise)]
    [InlineData(8, RotateFlags.Rotate90Counterclockwise)]
    [InlineData(3, RotateFlags.Rotate180)]
    public void TurnedPhotosAreBroughtBackToTheSensor(int orientation, RotateFlags turn)
    {
        using UprightPhoto level = TestPhoto.Open("clean-spinning");
        Mat turned = new();
        Cv2.Rotate(level.Bgr, turned, turn);
        using UprightPhoto upright = new(TestPhoto.Info(turned.Width, turned.Height, null) with { ExifOrientation = orientation }, turned);
        BoardView[] expected = [.. BoardSearch.Find(level, null)];
        BoardView[] found = [.. BoardSearch.Find(upright, null)];
        Assert.Equal(2, found.Length);
        for (int v = 0; v < 2; v++)
        {
            Assert.Equal(24, found[v].SensorPx.Count);
            Assert.All(found[v].SensorPx.Zip(expected[v].SensorPx), p => Assert.True(p.First.DistanceTo(p.Second) < 0.02));
        }
    }

    private static (double[] X, double Rms) OpenCv(List<BoardView> views, int width, int height)
    {
        double[,] camera = { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
        double[] distortion = new double[5];
        double rms = Cv2.CalibrateCamera(
            views.Select(v => v.BoardMm.Select(p => new Point3f((float)p.X, (float)p.Y, 0))), views.Select(v => v.SensorPx.Select(p => new Point2f((float)p.X, (float)p.Y))),
            new Size(width, height), camera, distortion, out _, out _, CalibrationFlags.FixAspectRatio | CalibrationFlags.FixK3, new TermCriteria(CriteriaTypes.Eps | CriteriaTypes.MaxIter, 200, 1e-12));
        return ([camera[0, 0], camera[0, 2], camera[1, 2], distortion[0], distortion[1], distortion[2], distortion[3], 0], rms);
    }
}

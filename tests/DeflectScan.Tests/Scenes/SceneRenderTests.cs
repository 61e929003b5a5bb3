using System.Collections.Concurrent;
using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using OpenCvSharp;
using OpenCvSharp.Aruco;

namespace DeflectScan.Tests.Scenes;

/// <summary>What is painted lies where the truth says.</summary>
public class SceneRenderTests
{
    [Theory]
    [InlineData(3)]
    public void OpenCvsOwnChArUcoDetectorFindsTheCorners(int seed)
    {
        (Scene scene, Mat grey) = WithTwoCards(seed);
        using Mat owned = grey;
        using Dictionary dictionary = CvAruco.GetPredefinedDictionary(PredefinedDictionaryType.Dict4X4_100);
        using CharucoBoard board = new(5, 7, 36, 27, dictionary);
        using CharucoDetector detector = new(board);
        detector.DetectBoard(grey, out Point2f[] corners, out int[] found, out _, out _);
        Assert.Equal(24, corners.Length);
        Point2f[] refined = Cv2.CornerSubPix(grey, corners, new Size(4, 4), new Size(-1, -1), TermCriteria.Both(50, 1e-4));
        double[][] exact = scene.Truth.Cards[0].InnerCornersPx;
        Vec2[] raw = Off(corners);
        Vec2[] off = Off(refined);
        Vec2 mean = Mean(raw);
        Assert.True(off.Average(o => o.Length) < 0.2, $"mean {off.Average(o => o.Length):0.000} px, raw {mean}, refined {Mean(off)}");

        // This release's detector puts its corners half a pixel off (OpenCV issue 25539); nothing else may be off.
        Assert.True((mean - new Vec2(0.5, 0.5)).Length < 0.1 || mean.Length < 0.1, $"raw {mean}");

        Vec2[] Off(Point2f[] seen) => [.. seen.Select((c, i) => new Vec2(c.X, c.Y) - new Vec2(exact[found[i]][0], exact[found[i]][1]))];
        Vec2 Mean(Vec2[] all) => new(all.Average(v => v.X), all.Average(v => v.Y));
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData(11)]
    public void OpenCvsOwnChArUcoDetectorFindsTheCornersMore(int seed) => OpenCvsOwnChArUcoDetectorFindsTheCorners(seed);

    /// <summary>Each marker's middle, from corners that lean inward alike, to the detector's pixel (a square is 20 px or more); on average to a tenth.</summary>
    [Theory]
    [InlineData(3)]
    public void OpenCvReadsEveryMarkerOfEveryCardInItsPlace(int seed)
    {
        (Scene scene, Mat grey) = WithTwoCards(seed);
        using Mat owned = grey;
        using Dictionary dictionary = CvAruco.GetPredefinedDictionary(PredefinedDictionaryType.Dict4X4_100);
        using ArucoDetector detector = new(dictionary, new DetectorParameters { CornerRefinementMethod = CornerRefineMethod.Subpix }, new RefineParameters());
        List<(int Id, Vec2 Middle)> seen = [];
        foreach (TruthCard card in scene.Truth.Cards)
        {
            Rect about = About(card);
            using Mat part = new(grey, about);
            detector.DetectMarkers(part, out Point2f[][] markers, out int[] ids, out _);
            seen.AddRange(ids.Select((id, i) => (id, new Vec2(about.X + markers[i].Average(c => c.X), about.Y + markers[i].Average(c => c.Y)))));
        }

        Assert.Equal(Enumerable.Range(0, 34), seen.Select(m => m.Id).Order());
        RodPlane plane = scene.Truth.RodPlane();
        List<Vec2> off = [];
        foreach ((int id, Vec2 middle) in seen)
        {
            double[][] outer = scene.Truth.Cards[id / 17].OuterCornersMm;
            Vec2 origin = new(outer[0][0], outer[0][1]);
            Vec2 across = new Vec2(outer[1][0], outer[1][1]) - origin;
            Vec2 down = new Vec2(outer[3][0], outer[3][1]) - origin;

            // Marker n of a card lies in the n-th white square, row by row; the top-left square is black.
            int square = (2 * (id % 17)) + 1;
            Vec2 centre = origin + (across * (((square % 5) + 0.5) / 5)) + (down * (((square / 5) + 0.5) / 7));
            off.Add(middle - plane.ToPhoto(centre));
            Assert.True(off[^1].Length < 1, $"marker {id} lies at {middle}, not {plane.ToPhoto(centre)}");
        }

        Vec2 mean = new(off.Average(v => v.X), off.Average(v => v.Y));
        Assert.True(mean.Length < 0.1, $"mean {mean}");
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData(11)]
    public void OpenCvReadsEveryMarkerOfEveryCardInItsPlaceMore(int seed) => OpenCvReadsEveryMarkerOfEveryCardInItsPlace(seed);

    /// <summary>Across a matt blank the two half-level crossings are symmetric about the axis: their middle is the axis, their distance the diameter.</summary>
    [Fact]
    public void TheBlanksEdgesLieAboutTheAxis()
    {
        SceneOptions options = new() { Seed = 9, WidthPx = 2304, HeightPx = 1728, Gloss = 0, Guides = 5, ShotNoise = 0, ReadNoise = 0, Sharpen = 0, BlankColour = new(0.02f, 0.02f, 0.02f), WallColour = new(0.6f, 0.6f, 0.6f) };
        Scene scene = new(options);
        using Mat bgr = scene.Render();
        using Mat green = new();
        Cv2.ExtractChannel(bgr, green, 1);
        green.GetArray(out byte[] at);
        List<double> offsets = [];
        foreach (TruthSample s in scene.Truth.Blank.Samples.Where(s => s.S > options.VisibleFromMm + 30 && s.S < options.BlankLengthMm - 100))
        {
            if (scene.Truth.Guides.Any(g => Math.Abs(g.SMm - s.S) < 60) || Math.Abs(s.S - (options.BlankLengthMm / 2)) < 60)
                continue;
            TruthSample next = scene.Truth.Blank.Samples.First(n => n.S > s.S);
            Vec2 normal = new Vec2(next.U - s.U, next.V - s.V).Normalized().Perpendicular;
            double half = s.DiameterMm / 2 / scene.Truth.Camera.MmPerPxCentre;
            if (HalfLevel(at, options.WidthPx, new Vec2(s.U, s.V), normal, half) is { } left && HalfLevel(at, options.WidthPx, new Vec2(s.U, s.V), -normal, half) is { } right)
                offsets.Add((left - right) / 2);
        }

        Assert.True(offsets.Count > 100);
        Assert.True(Math.Abs(offsets.Average()) < 0.03, $"mean offset {offsets.Average():0.000} px");
        Assert.True(offsets.Select(Math.Abs).Order().ElementAt(offsets.Count * 95 / 100) < 0.15);
    }

    [Fact]
    public void SameOptionsGiveTheSameBytes()
    {
        SceneOptions options = RandomScenes.Good(5, 0.8) with { WidthPx = 1200, HeightPx = 900, RollDeg = 0 };
        Assert.Equal(new Scene(options).RenderJpeg(), new Scene(options).RenderJpeg());
        Assert.NotEqual(new Scene(options).RenderJpeg(), new Scene(options with { Seed = 6 }).RenderJpeg());
    }

    [Theory]
    [InlineData(Defect.TipCropped)]
    [InlineData(Defect.ButtCropped)]
    [InlineData(Defect.CardOffPlane)]
    [InlineData(Defect.LargeTilt)]
    [InlineData(Defect.CardTooSmall)]
    public void BadScenesAreBadInTheWayTheySay(Defect defect)
    {
        Truth truth = new Scene(RandomScenes.Bad(2, defect)).Truth;
        Assert.False(truth.ExpectsOk);
        Assert.NotEmpty(truth.ExpectedCodes!);
        (int w, int h) = (truth.Image.Displayed[0], truth.Image.Displayed[1]);
        TruthSample tip = truth.Blank.Samples[^1];
        TruthSample bare = truth.Blank.Samples.First(s => s.S >= truth.Blank.VisibleFromSMm);
        switch (defect)
        {
            case Defect.TipCropped:
                Assert.False(Inside(tip));
                Assert.True(Inside(bare));
                break;
            case Defect.ButtCropped:
                Assert.False(Inside(bare));
                Assert.True(Inside(tip));
                break;
            case Defect.CardOffPlane:
                Assert.Equal([0, 60], truth.Cards.Select(c => Math.Abs(c.ZMm)));
                break;
            case Defect.LargeTilt:
                Assert.True(Math.Abs(truth.Camera.YawDeg) >= 45);
                break;
            default:
                double[][] c = truth.Cards[0].OuterCornersPx;
                Assert.True(new Vec2(c[0][0], c[0][1]).DistanceTo(new Vec2(c[1][0], c[1][1])) < 60);
                break;
        }

        bool Inside(TruthSample s) => s.U >= 0 && s.V >= 0 && s.U < w && s.V < h;
    }

    private static readonly ConcurrentDictionary<int, Lazy<(Scene Scene, byte[] Png)>> Rendered = new();

    // One rendering for all tests of a seed; each gets its own copy of the pixels.
    private static (Scene Scene, Mat Grey) WithTwoCards(int seed)
    {
        (Scene scene, byte[] png) = Rendered.GetOrAdd(seed, s => new Lazy<(Scene Scene, byte[] Png)>(() =>
        {
            Scene made = new(RandomScenes.Good(s, 0.3) with { WidthPx = 2976, HeightPx = 2232, RollDeg = 1, Cards = 2, Orientation = 1 });
            using Mat bgr = made.Render();
            using Mat grey = new();
            Cv2.CvtColor(bgr, grey, ColorConversionCodes.BGR2GRAY);
            return (made, grey.ImEncode(".png"));
        })).Value;
        return (scene, Cv2.ImDecode(png, ImreadModes.Grayscale));
    }

    private static Rect About(TruthCard card)
    {
        const int margin = 30;
        int left = (int)card.OuterCornersPx.Min(p => p[0]) - margin;
        int top = (int)card.OuterCornersPx.Min(p => p[1]) - margin;
        return new Rect(left, top, (int)card.OuterCornersPx.Max(p => p[0]) + margin - left, (int)card.OuterCornersPx.Max(p => p[1]) + margin - top);
    }

    // Distance along the direction at which the grey value crosses midway between the bar and the wall.
    private static double? HalfLevel(byte[] green, int width, Vec2 axis, Vec2 direction, double halfPx)
    {
        double inside = Grey(green, width, axis);
        double outside = Grey(green, width, axis + (direction * (halfPx + 6)));
        double level = (inside + outside) / 2;
        for (double d = halfPx + 4; d > 0; d -= 0.02)
        {
            if (Grey(green, width, axis + (direction * d)) < level)
                return d;
        }

        return null;
    }

    private static double Grey(byte[] m, int width, Vec2 p)
    {
        int x = (int)Math.Floor(p.X);
        int y = (int)Math.Floor(p.Y);
        double u = p.X - x;
        double v = p.Y - y;
        return ((1 - v) * (((1 - u) * m[(y * width) + x]) + (u * m[(y * width) + x + 1]))) + (v * (((1 - u) * m[((y + 1) * width) + x]) + (u * m[((y + 1) * width) + x + 1])));
    }
}

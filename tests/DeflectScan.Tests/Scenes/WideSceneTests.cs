using DeflectScan.Geometry;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Scenes.Rendering.Paint;
using DeflectScan.Tracing;
using OpenCvSharp;
using OpenCvSharp.Aruco;

namespace DeflectScan.Tests.Scenes;

/// <summary>Wide scenes: the same each time, as varied as they say, and their truth holds together.</summary>
public class WideSceneTests
{
    private static readonly Lazy<IReadOnlyList<SceneOptions>> Drawn = new(() => [.. Enumerable.Range(1, 600).Select(s => RandomScenes.Wide(s, (s % 10) / 9.0))]);

    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void SameOptionsGiveTheSameBytes()
    {
        SceneOptions options = RandomScenes.Wide(5, 0.9) with { WidthPx = 800, HeightPx = 600, RollDeg = 0, Faults = new CameraFaults { ShakePx = 2, Smear = 0.5, Halo = 0.2, Contrast = 0.1, Red = 1.1 } };
        Assert.Equal(options, RandomScenes.Wide(5, 0.9) with { WidthPx = 800, HeightPx = 600, RollDeg = 0, Faults = options.Faults });
        byte[] once = new Scene(options).RenderJpeg();
        Assert.Equal(once, new Scene(options).RenderJpeg());
        Assert.NotEqual(once, new Scene(options with { Faults = new CameraFaults() }).RenderJpeg());
        Assert.NotEqual(once, new Scene(options with { Backdrop = options.Backdrop! with { Pattern = Pattern.Mural } }).RenderJpeg());
        Assert.NotEqual(once, new Scene(options with { Build = options.Build! with { HolderThickMm = 1, HolderColour = new(0.9f, 0.9f, 0.1f) } }).RenderJpeg());
    }

    [Fact]
    public void TwoThirdsHaveTubingOrBandsOrTapeAndEveryKindComes()
    {
        IReadOnlyList<SceneOptions> all = Drawn.Value;
        Assert.InRange(all.Count(o => o.Build!.Holder != HolderKind.Thread) / (double)all.Count, 0.6, 0.8);
        Assert.Equal(Enum.GetValues<Pattern>().Order(), all.Select(o => o.Backdrop!.Pattern).Distinct().Order());
        Assert.Equal(Enum.GetValues<FrameKind>().Order(), all.Select(o => o.Build!.Frame).Distinct().Order());
        Assert.InRange(all.Count(o => o.Build!.Reel == ReelKind.None) / (double)all.Count, 0.15, 0.25);
        Assert.InRange(all.Count(o => o.Side == BendSide.Outside) / (double)all.Count, 0.3, 0.5);
        Assert.InRange(all.Count(o => o.PointsLeft) / (double)all.Count, 0.4, 0.6);
        Assert.Equal((4, 15), (all.Min(o => o.Guides), all.Max(o => o.Guides)));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    public void TheTruthHoldsTogether(int seed)
    {
        SceneOptions options = RandomScenes.Wide(seed, 0.7);
        Truth truth = new Scene(options).Truth;
        string path = Path.GetTempFileName();
        truth.Write(path);
        Truth read = Truth.Read(path);
        File.Delete(path);
        Assert.Equal(truth.Pieces!.Count, read.Pieces!.Count);
        Assert.Equal(options.Build!.Reel.ToString().ToLowerInvariant(), read.Reel);
        ArcCurve axis = TruthMeasurement.Axis(truth).Curve;
        foreach (TruthGuide g in read.Guides)
        {
            // The contact is the line's centre: within the opening, at its own station, at its height.
            Vec2 contact = new(g.ContactMm[0], g.ContactMm[1]);
            Assert.True(contact.DistanceTo(new Vec2(g.RingCentreMm[0], g.RingCentreMm[1])) <= (g.RingInnerMm / 2) + 1e-6);
            Assert.InRange(Math.Abs(axis.Nearest(contact).Offset), g.HeightMm - 0.05, g.HeightMm + 0.05);
            if (g.Kind != "tip")
                Assert.Equal(truth.Blank.LengthMm - g.SMm, axis.Nearest(contact).S, 0.1);
            Assert.InRange(g.Stance!.StationSMm, g.SMm - 12, g.SMm + 12);
        }

        // Every guide but the tip-top has a holder a foot, and nothing else lies on a guide's feet.
        foreach (TruthGuide g in read.Guides.Where(g => g.Kind != "tip"))
        {
            Assert.Equal(g.Stance!.FeetSMm.Length, read.Pieces.Count(p => p.Guide == g.Index));
            Assert.DoesNotContain(read.Pieces, p => p.Guide is null && g.Stance.FeetSMm.Any(f => p.FromSMm < f[1] && p.ToSMm > f[0]));
        }

        Assert.All(read.Guides.Zip(read.Guides.Skip(1)), p => Assert.True(p.Second.SMm > p.First.SMm));
    }

    [Fact]
    public void EveryDrawnSceneStandsAndIsWhollyInThePicture()
    {
        foreach (SceneOptions options in Drawn.Value.Where((_, i) => i % 25 == 0))
        {
            Truth truth = new Scene(options).Truth;
            Assert.Equal(options.Cards, truth.Cards.Count);
            Assert.Equal(options.Guides + 1, truth.Guides.Count);
            Assert.All(truth.Guides, g => Assert.True(g.ContactPx[0] > 0 && g.ContactPx[0] < options.WidthPx && g.ContactPx[1] > 0 && g.ContactPx[1] < options.HeightPx, options.Name));
            Assert.All(truth.Pieces!, p => Assert.InRange(p.FromSMm, options.VisibleFromMm, truth.Blank.LengthMm));
        }
    }

    /// <summary>A disc that shook along a path of 3 px stays where its middle is, to a fiftieth of a pixel.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(30)]
    [InlineData(120)]
    public void ShakeMovesNothing(double degrees)
    {
        const int size = 41;
        byte[] bgr = new byte[size * size * 3];
        for (int i = 0; i < size * size; i++)
            bgr[3 * i] = (byte)(new Vec2((i % size) - 20, (i / size) - 20).Length <= 5 ? 200 : 0);
        byte[] still = (byte[])bgr.Clone();
        PhoneFaults.Apply(new CameraFaults { ShakePx = 3, ShakeDeg = degrees }, 1, bgr, size, size);
        Assert.NotEqual(still, bgr);
        (double sum, double x, double y) = (0, 0, 0);
        for (int row = 11; row <= 29; row++)
        {
            for (int column = 11; column <= 29; column++)
            {
                double v = bgr[3 * ((row * size) + column)];
                (sum, x, y) = (sum + v, x + (v * column), y + (v * row));
            }
        }

        Assert.InRange(x / sum, 19.98, 20.02);
        Assert.InRange(y / sum, 19.98, 20.02);
    }

    /// <summary>Held against OpenCV's own table.</summary>
    [Fact]
    public void TheCardsBitsAreOpenCvs()
    {
        using Dictionary dictionary = CvAruco.GetPredefinedDictionary(PredefinedDictionaryType.Dict4X4_100);
        for (int id = 0; id < 100; id++)
        {
            using Mat marker = new();
            dictionary.GenerateImageMarker(id, 6, marker, 1);
            for (int j = 0; j < 6; j++)
            {
                for (int i = 0; i < 6; i++)
                    Assert.Equal(marker.At<byte>(j, i) < 128, CardBits.IsBlack(id, i, j));
            }
        }
    }
}

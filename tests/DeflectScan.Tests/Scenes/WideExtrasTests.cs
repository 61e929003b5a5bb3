using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Scenes.Rendering.Paint;
using DeflectScan.Scenes.Rendering.World;
using DeflectScan.Tracing;
using OpenCvSharp;

namespace DeflectScan.Tests.Scenes;

/// <summary>What wide scenes got later: as often as they say, and its truth is what is painted.</summary>
public class WideExtrasTests
{
    private static readonly Lazy<IReadOnlyList<SceneOptions>> Drawn = new(() => [.. Enumerable.Range(1, 600).Select(s => RandomScenes.Wide(s, (s % 10) / 9.0))]);

    [Fact]
    public void EveryKindComesAsOftenAsItShould()
    {
        IReadOnlyList<SceneOptions> all = Drawn.Value;
        Assert.InRange(all.Count(o => o.InFront.Count > 0) / 600.0, 0.11, 0.19);
        Assert.Equal(Enum.GetValues<FrontKind>().Order(), all.SelectMany(o => o.InFront).Select(f => f.Kind).Distinct().Order());
        Assert.InRange(all.Count(o => o.TipTurnDeg < 20) / 600.0, 0.025, 0.08);
        Assert.InRange(all.Count(o => o.Guides >= 12) / 600.0, 0.08, 0.3);
        Assert.True(all.Count(o => o.Backdrop!.Pattern == Pattern.Dots || o.Backdrop.Perforated > 0) > 40);
        Assert.Equal(3, all.Select(o => o.Build!.ReelShape.Spool).Distinct().Count());
        Assert.InRange(all.Count(o => o.Build!.ReelShape.RimMm < 3) / 600.0, 0.35, 0.55);
        Assert.InRange(all.Where(o => o.Build!.Reel == ReelKind.Spinning).Average(o => o.Build!.ReelShape.StemMm), 62, 74);
    }

    /// <summary>The foremost edge of what is painted, rounded rim and bail and crank included, is the front's station to a hundredth of a mm.</summary>
    [Fact]
    public void NoPartOfAReelReachesBeyondItsFront()
    {
        int seen = 0;
        foreach (SceneOptions o in Drawn.Value.Where(o => o.Build!.Reel != ReelKind.None).Take(80))
        {
            RodBuild rod = RodBuild.Of(o);
            double foremost = new BuiltReel(o, rod).Parts().Max(p => p.Points.Select((q, i) => q.S + (p.Round ? p.Radius(i) : 0)).Max());
            Assert.Equal(rod.ReelFrontMm, foremost, 0.01);
            seen++;
        }

        Assert.Equal(80, seen);
    }

    /// <summary>
    /// In a slanted view a round rim's outline lies ahead of its plane by the rim's radius times the slope: held against the pixels that change where reels are drawn
    /// solid, laid back into the rod's plane.
    /// </summary>
    [Fact]
    public void ARimStandsRoundAboutTheSpoolsAxis()
    {
        int seen = 0;
        foreach (SceneOptions drawn in Drawn.Value.Where(o => o.Build is { Reel: ReelKind.Spinning, ReelShape: { Spool: SpoolKind.Skirted, KnobMm: 0, RimMm: < 3 } } && o.InFront.Count == 0))
        {
            SceneOptions o = drawn with { Faults = new() };
            Scene scene = new(o);
            Scene flat = new(o with { Build = o.Build! with { ReelShape = o.Build.ReelShape with { Solid = false } } });
            RodPlane plane = scene.Truth.RodPlane();
            TruthSample[] near = [.. scene.Truth.Blank.Samples.OrderBy(s => Math.Abs(s.S - scene.Truth.Blank.ReelFrontSMm)).Take(2).OrderBy(s => s.S)];
            (Vec2 front, Vec2 next) = (new(near[0].X, near[0].Y), new(near[1].X, near[1].Y));
            Vec2 along = (next - front).Normalized();
            front += along * (scene.Truth.Blank.ReelFrontSMm - near[0].S);
            (Vec2 foot, double height) = plane.CameraPosition();
            double slope = -(front - foot).Dot(along) / height;
            if (o.Build!.ReelShape.LipMm * o.Build.ReelScale * slope < 6 || plane.MmPerPx(front) > 1.3)
                continue;
            (byte[] a, byte[] b) = (scene.RenderPixels(), flat.RenderPixels());
            double foremost = Enumerable.Range(0, a.Length / 3).Where(i => Math.Abs(a[3 * i] - b[3 * i]) + Math.Abs(a[(3 * i) + 1] - b[(3 * i) + 1]) + Math.Abs(a[(3 * i) + 2] - b[(3 * i) + 2]) > 40)
                .Select(i => plane.ToPlane(new Vec2(i % o.WidthPx, i / o.WidthPx)) - front)
                .Where(p => Math.Abs(p.Cross(along)) is > 20 and < 130).Select(p => p.Dot(along)).Where(s => s is > -40 and < 40).DefaultIfEmpty(0).Max();
            Assert.InRange(foremost - (o.Build!.ReelShape.LipMm * o.Build.ReelScale * slope), -4, 4);
            if (++seen == 2)
                break;
        }

        Assert.Equal(2, seen);
    }

    [Theory]
    [InlineData(4, 0)]
    [InlineData(4, 2)]
    [InlineData(4, 3.99)]
    public void ARimIsRoundedAsACircle(double rho, double behind) =>
        Assert.Equal(rho * rho, Math.Pow(rho - behind, 2) + Math.Pow(BuiltReel.RoundedMm(20, rho, behind) - 20 + rho, 2), 1e-9);

    /// <summary>Held against the pictures with and without the thing: where truth says hidden the blank's pixels change, elsewhere none does.</summary>
    [Theory]
    [InlineData(FrontKind.Tape, 60)]
    [InlineData(FrontKind.Post, 40)]
    [InlineData(FrontKind.Hand, 90)]
    public void WhatIsHiddenIsWhatIsPaintedOver(FrontKind kind, double wide)
    {
        SceneOptions plain = RandomScenes.Wide(8, 0) with
        {
            WidthPx = 1200, HeightPx = 900, RollDeg = 0, InFront = [], Faults = new CameraFaults(), ShotNoise = 0, ReadNoise = 0, Sharpen = 0, BlankColour = new(0.02f, 0.02f, 0.02f),
        };
        Scene covered = new(plain with { InFront = [new FrontOptions { Kind = kind, WideMm = wide, At = 0.5, Colour = new(0.9f, 0.1f, 0.7f) }] });
        using Mat without = new Scene(plain).Render();
        using Mat with = covered.Render();
        Truth truth = covered.Truth;
        Assert.NotEmpty(truth.Hidden!);
        Assert.Equal("refuse_or_review", truth.Expected);
        foreach (TruthSample s in truth.Blank.Samples.Where(s => s.S > truth.Blank.VisibleFromSMm))
        {
            double inside = truth.Hidden!.Max(h => Math.Min(s.S - h[0], h[1] - s.S));
            Vec3b a = without.At<Vec3b>((int)Math.Round(s.V), (int)Math.Round(s.U));
            Vec3b b = with.At<Vec3b>((int)Math.Round(s.V), (int)Math.Round(s.U));
            int change = Math.Abs(a.Item0 - b.Item0) + Math.Abs(a.Item1 - b.Item1) + Math.Abs(a.Item2 - b.Item2);
            if (inside > 8)
                Assert.True(change > 25, $"{s.S:F0} mm is said to be hidden");
            else if (inside < -25)
                Assert.True(change < 25, $"{s.S:F0} mm is said to be seen");
        }
    }

    [Fact]
    public void AHiddenGuideIsFlaggedAndAnOlderFileHasNone()
    {
        SceneOptions o = RandomScenes.Wide(8, 0) with { InFront = [new FrontOptions { Kind = FrontKind.Post, WideMm = 50, OverGuide = 2 }] };
        Truth truth = new Scene(o).Truth;
        Assert.True(truth.Guides[1].Hidden);
        string path = Path.GetTempFileName();
        truth.Write(path);
        Assert.True(Truth.Read(path).Guides[1].Hidden);
        Assert.Equal(truth.Hidden!.Count, Truth.Read(path).Hidden!.Count);
        File.WriteAllText(path, System.Text.RegularExpressions.Regex.Replace(File.ReadAllText(path), ",\"hidden\":(false|true|null|\\[\\[[^]]*\\](,\\[[^]]*\\])*\\])", string.Empty));
        Truth older = Truth.Read(path);
        File.Delete(path);
        Assert.Null(older.Hidden);
        Assert.DoesNotContain(older.Guides, g => g.Hidden);
    }

    /// <summary>A card that something covers would be another fault than the one asked for.</summary>
    [Fact]
    public void NothingInFrontCoversACard()
    {
        foreach (SceneOptions o in Drawn.Value.Where(o => o.InFront.Count > 0).Take(30))
        {
            RodBuild rod = RodBuild.Of(o);
            Scene scene = new(o);
            Truth truth = scene.Truth;
            Assert.Equal(truth.Hidden is { } h && (h.Sum(x => Math.Max(0, x[1] - Math.Max(x[0], o.VisibleFromMm))) > 25 || truth.Guides.Any(g => g.Hidden)), !truth.ExpectsOk);
            foreach (TruthCard c in truth.Cards)
                Assert.All(c.InnerCornersPx, p => Assert.False(scene.IsCovered(new Vec2(p[0], p[1])), o.Name));
        }
    }
}

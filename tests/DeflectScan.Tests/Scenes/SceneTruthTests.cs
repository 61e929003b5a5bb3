using System.Collections.Concurrent;
using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Tests.Layout;

namespace DeflectScan.Tests.Scenes;

/// <summary>A scene's truth holds together: mm and px, figures and definitions, the line and the rings.</summary>
public class SceneTruthTests
{
    public static TheoryData<int> Seeds() => [.. Enumerable.Range(1, 8)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void MillimetresProjectToPixels(int seed)
    {
        Truth truth = RoundTrip(TruthOf(seed));
        RodPlane plane = truth.RodPlane();
        foreach (TruthGuide g in truth.Guides)
            Assert.True(plane.ToPhoto(new Vec2(g.ContactMm[0], g.ContactMm[1])).DistanceTo(new Vec2(g.ContactPx[0], g.ContactPx[1])) < 1e-6);
        foreach (TruthSample s in truth.Blank.Samples)
        {
            Assert.True(plane.ToPhoto(new Vec2(s.X, s.Y)).DistanceTo(new Vec2(s.U, s.V)) < 1e-6);
            Assert.InRange(s.U, 0, truth.Image.Displayed[0] - 1);
            Assert.InRange(s.V, 0, truth.Image.Displayed[1] - 1);
        }

        foreach (TruthCard c in truth.Cards)
        {
            for (int i = 0; i < 24; i++)
                Assert.True(plane.ToPhoto(new Vec2(c.InnerCornersMm[i][0], c.InnerCornersMm[i][1])).DistanceTo(new Vec2(c.InnerCornersPx[i][0], c.InnerCornersPx[i][1])) < 1e-6);
        }
    }

    /// <summary>Two programs that share no code: the scenes' dense sampling and the product's own rule.</summary>
    [Theory]
    [MemberData(nameof(Seeds))]
    public void FiguresFollowFromTheDefinitions(int seed)
    {
        Truth truth = TruthOf(seed);
        BlankShape blank = TruthShape.Blank(truth);
        IReadOnlyList<RingPoint> rings = TruthShape.Rings(truth, blank);
        LayoutResult result = LayoutRule.Evaluate(blank, rings, TruthShape.Side(truth));
        for (int i = 0; i < result.Intervals.Count; i++)
        {
            TruthInterval t = truth.Intervals[i + 1];
            Assert.Equal(t.GapMm, result.Intervals[i].GapMm, 0.02);
            Assert.Equal(t.BowMm, result.Intervals[i].BowMm, 0.02);
            Assert.Equal(t.ClearanceMm, result.Intervals[i].ClearanceMm, 0.02);
        }

        for (int i = 0; i < rings.Count; i++)
        {
            Assert.Equal(truth.Guides[i].FromTipMm, rings[i].StationMm, 0.02);
            Assert.Equal(truth.Guides[i].HeightMm, rings[i].DistanceMm, 0.02);
            Assert.Equal(TruthShape.Side(truth), rings[i].Side);
        }
    }

    /// <summary>Taut: the line stays in every ring, off the blank, and any nudge of a contact in its ring makes it longer.</summary>
    [Theory]
    [MemberData(nameof(Seeds))]
    public void TheLineIsTheShortestPathThroughTheRings(int seed)
    {
        Truth truth = TruthOf(seed);
        BlankShape blank = TruthShape.Blank(truth);
        Vec2[] contacts = [.. truth.Guides.Select(g => new Vec2(g.ContactMm[0], g.ContactMm[1]))];
        TruthVertex reel = truth.Line.Vertices[0];
        for (int i = 0; i < contacts.Length; i++)
        {
            TruthGuide g = truth.Guides[i];
            Vec2 centre = new(g.RingCentreMm[0], g.RingCentreMm[1]);
            double play = (g.RingInnerMm - truth.Line.DiameterMm) / 2;
            Assert.True(contacts[i].DistanceTo(centre) <= play + 1e-9);
            Vec2 before = i == 0 ? new Vec2(reel.X, reel.Y) : contacts[i - 1];
            Vec2 across = (contacts[i] - centre).Normalized();
            double best = Length(before, contacts[i], i);
            foreach (double nudge in new[] { 0.1, 0.5, play })
                Assert.True(g.ContactRim == "free" || Length(before, contacts[i] - (across * nudge), i) > best, $"guide {g.Index} nudged by {nudge}");
        }

        foreach (TruthVertex v in truth.Line.Vertices.Where(v => v.Kind == "blank"))
        {
            RingPoint on = RingPoint.Seen(blank, new Vec2(v.X, v.Y));
            Assert.Equal((blank.RadiusMm(on.StationMm) + (truth.Line.DiameterMm / 2)), on.DistanceMm, 0.02);
        }

        double Length(Vec2 before, Vec2 at, int i) =>
            before.DistanceTo(at) + (i + 1 < contacts.Length ? at.DistanceTo(contacts[i + 1]) : at.Y - truth.Line.HangsToMm![1]);
    }

    [Fact]
    public void LeftPointingRodIsTheRightPointingOneTurnedAbout()
    {
        SceneOptions right = new() { Seed = 4, Cards = 0 };
        Truth a = new Scene(right).Truth;
        Truth b = new Scene(right with { PointsLeft = true }).Truth;
        for (int i = 0; i < a.Guides.Count; i++)
        {
            Assert.Equal(-a.Guides[i].ContactMm[0], b.Guides[i].ContactMm[0], 1e-9);
            Assert.Equal(a.Guides[i].ContactMm[1], b.Guides[i].ContactMm[1], 1e-9);
            Assert.Equal(a.Guides[i].LineAngleDeg, b.Guides[i].LineAngleDeg, 1e-9);
        }

        Assert.True(b.Guides[^1].ContactPx[0] < b.Guides[0].ContactPx[0], "the tip must lie left of the first guide in the picture");
    }

    private static readonly ConcurrentDictionary<int, Truth> Made = new();

    private static Truth TruthOf(int seed) => Made.GetOrAdd(seed, s => new Scene(RandomScenes.Good(s, 0.6)).Truth);

    private static Truth RoundTrip(Truth truth)
    {
        string path = Path.GetTempFileName();
        try
        {
            truth.Write(path);
            return Truth.Read(path);
        }
        finally
        {
            File.Delete(path);
        }
    }
}

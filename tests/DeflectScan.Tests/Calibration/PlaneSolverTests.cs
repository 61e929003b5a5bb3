using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Calibration;

public class PlaneSolverTests
{
    public static TheoryData<string> Photos => [.. TestPhoto.WithCards];

    /// <summary>
    /// Outside check: lengths between the truth files' line contacts, seen through the solved plane at their true px. Bars: with two or
    /// more cards 0.6 mm for every pair up to the whole rod; with one card 1 % of the length.
    /// </summary>
    [Theory]
    [MemberData(nameof(Photos))]
    public void LengthsAlongTheRodAreRightWithinTheirUncertainty(string name)
    {
        Truth truth = Repository.Truth(name);
        PlaneSolution solution = Solve(name).Value!;
        (Vec2 Mm, Vec2 Px)[] points = [.. truth.Guides.Select(g => (new Vec2(g.ContactMm[0], g.ContactMm[1]), new Vec2(g.ContactPx[0], g.ContactPx[1])))];
        int pairs = 0;
        int inside = 0;
        for (int i = 0; i < points.Length; i++)
        {
            for (int j = i + 1; j < points.Length; j++)
            {
                double trueMm = points[i].Mm.DistanceTo(points[j].Mm);
                double off = Length(solution.Plane, points[i].Px, points[j].Px) - trueMm;
                double u = Uncertainty(solution.Plane, points[i].Px, points[j].Px);
                pairs++;
                inside += Math.Abs(off) < 1.96 * u ? 1 : 0;
                Assert.True(Math.Abs(off) < (truth.Cards.Count > 1 ? 0.6 : 0.01 * trueMm), $"guides {i + 1} to {j + 1}: {off:0.00} mm of {trueMm:0}");
                Assert.True(Math.Abs(off) < 3.5 * u, $"guides {i + 1} to {j + 1}: {off:0.00} mm, standard uncertainty {u:0.00}");
            }
        }

        Assert.True(inside >= 0.85 * pairs, $"{inside} of {pairs} lengths lie inside their 95 %");
    }

    [Theory]
    [MemberData(nameof(Photos))]
    public void GoodPhotosGiveNoFindingAndASaneReport(string name)
    {
        Truth truth = Repository.Truth(name);
        Outcome<PlaneSolution> outcome = Solve(name);
        Assert.Empty(outcome.Findings);
        PlaneSolution solution = outcome.Value!;
        Assert.Equal("exif", solution.Lens);
        Assert.Equal(truth.Camera.MmPerPxCentre, solution.MmPerPx, 0.04 * truth.Camera.MmPerPxCentre);
        Assert.InRange(solution.TiltDeg, 0, 20);
        Assert.All(solution.Cards, c => Assert.InRange(c.RmsPx, 0.005, 0.15));
        Assert.True(solution.ScaleUncertaintyPercent < (truth.Cards.Count > 1 ? 0.2 : 1.5), $"{solution.ScaleUncertaintyPercent} %");
    }

    [Fact]
    public void ThePlanesFrameIsThePhotosRightAndUp()
    {
        PlaneSolution solution = Solve("rotated-exif").Value!;
        Vec2 middle = new(3023 / 2.0, 4031 / 2.0);
        Assert.True(solution.Plane.ToPlane(middle).Length < 1e-6);
        Vec2 right = solution.Plane.ToPlane(middle + new Vec2(1, 0));
        Assert.True(right.X > 0 && Math.Abs(right.Y) < 1e-6 * right.X);
        Assert.True(solution.Plane.ToPlane(middle - new Vec2(0, 1)).Y > 0);
    }

    /// <summary>The outline in the plane, seen in the photo, is the truth file's outline of the pattern.</summary>
    [Fact]
    public void CardOutlinesLieWhereTheCardsAre()
    {
        Truth truth = Repository.Truth("clutter-bench");
        PlaneSolution solution = Solve("clutter-bench").Value!;
        foreach (SolvedCard card in solution.Cards)
        {
            TruthCard t = truth.Cards.Single(c => c.Letter[0] == card.Letter);
            for (int i = 0; i < 4; i++)
                Assert.True(solution.Plane.ToPhoto(card.PatternMm[i]).DistanceTo(new Vec2(t.OuterCornersPx[i][0], t.OuterCornersPx[i][1])) < 0.5);
            Assert.Equal(ScaleCard.PatternWidthMm, card.PatternMm[0].DistanceTo(card.PatternMm[1]), 1e-6);
            Assert.True(card.BoardMm[0].DistanceTo(card.BoardMm[2]) > card.PatternMm[0].DistanceTo(card.PatternMm[2]) + 50);
        }
    }

    [Fact]
    public void ACardPrintedTooSmallShortensEveryLengthAlike()
    {
        SyntheticCards scene = new(3);
        CardSighting[] seen = scene.See(SyntheticCards.Two, 0.05);
        RodPlane full = PlaneSolver.Solve(seen, scene.Info).Value!.Plane;
        RodPlane small = PlaneSolver.Solve(seen, scene.Info, new CalibrationOptions { CardScale = 0.985 }).Value!.Plane;
        (Vec2 a, Vec2 b) = (new(600, 700), new(3300, 1500));
        Assert.Equal(0.985, Length(small, a, b) / Length(full, a, b), 1e-5);
    }

    [Fact]
    public void TheSameSightingsGiveTheSameBytes()
    {
        SyntheticCards scene = new(4);
        CardSighting[] seen = scene.See(SyntheticCards.Three, 0.1);
        string once = Print(PlaneSolver.Solve(seen, scene.Info).Value!);
        Assert.Equal(once, Print(PlaneSolver.Solve(seen, scene.Info).Value!));

        static string Print(PlaneSolution s) =>
            string.Join(' ', s.Plane.Variants.Append(s.Plane).Select(p => p.ToPlane(new Vec2(100, 200))).Select(v => $"{v.X:R} {v.Y:R}"));
    }

    internal static double Length(RodPlane plane, Vec2 aPx, Vec2 bPx) => plane.ToPlane(aPx).DistanceTo(plane.ToPlane(bPx));

    internal static double Uncertainty(RodPlane plane, Vec2 aPx, Vec2 bPx)
    {
        double length = Length(plane, aPx, bPx);
        return Math.Sqrt(plane.Variants.Sum(v => Math.Pow(Length(v, aPx, bPx) - length, 2)));
    }

    private static Outcome<PlaneSolution> Solve(string name)
    {
        using UprightPhoto photo = TestPhoto.Open(name);
        return PlaneSolver.Solve(CardFinder.Find(photo), photo.Info);
    }
}

using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;

namespace DeflectScan.Tests.Calibration;

/// <summary>Cards that do not stand in the rod's plane, synthetic: corners of a phone's photo from 1.7 m with noise of 0.06 px.</summary>
public class CoplanarityTests
{
    private const double NoisePx = 0.06;

    /// <summary>200 photos of cards that do stand in the plane: no alarm (a note has a chance of 0.001 times the number of cards by design, a review far less).</summary>
    [Fact]
    public void CardsInThePlaneRaiseNoAlarm()
    {
        List<Finding> alarms = [];
        for (int seed = 0; seed < 200; seed++)
        {
            SyntheticCards scene = new(1000 + seed);
            StandingCard[] cards = seed % 2 == 0 ? SyntheticCards.Two : SyntheticCards.Three;
            alarms.AddRange(PlaneSolver.Solve(scene.See(cards, NoisePx), scene.Info).Findings.Where(f => f.Code is FindingCode.CardsDisagree or FindingCode.CardOffPlane));
        }

        Assert.DoesNotContain(alarms, a => a.Severity == Severity.Review);
        Assert.True(alarms.Count <= 2, string.Join('\n', alarms));
    }

    /// <summary>The smallest that always calls for review: 30 mm off the plane, or 4 degrees out of it. Two cards cannot tell which, three name it.</summary>
    [Theory]
    [InlineData(30, 0, 0)]
    [InlineData(0, 0, 4)]
    public void ACardOffThePlaneCallsForReview(double heightMm, double leanXDeg, double leanYDeg)
    {
        for (int seed = 0; seed < 12; seed++)
        {
            foreach (StandingCard[] set in new[] { SyntheticCards.Two, SyntheticCards.Three })
            {
                SyntheticCards scene = new(seed);
                StandingCard[] cards = [.. set];
                cards[1] = cards[1] with { HeightMm = heightMm, LeanXDeg = leanXDeg, LeanYDeg = leanYDeg };
                IReadOnlyList<Finding> findings = PlaneSolver.Solve(scene.See(cards, NoisePx), scene.Info).Findings;
                Finding finding = Assert.Single(findings, f => f.Severity == Severity.Review);
                Assert.Equal(cards.Length == 2 ? FindingCode.CardsDisagree : FindingCode.CardOffPlane, finding.Code);
                Assert.True(cards.Length == 2 || finding.Message.StartsWith("Card B ", StringComparison.Ordinal), finding.Message);
            }
        }
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData(-30, 0, 0)]
    [InlineData(0, 4, 0)]
    [InlineData(60, 0, 0)]
    [InlineData(0, 5, 0)]
    [InlineData(0, 0, 5)]
    public void ACardOffThePlaneCallsForReviewMore(double heightMm, double leanXDeg, double leanYDeg) => ACardOffThePlaneCallsForReview(heightMm, leanXDeg, leanYDeg);

    /// <summary>
    /// A card set up by hand, some millimetres or a degree off: no review. Where it is noted, the error of a length of 1 m stays inside what
    /// is stated; where the photo cannot show it, it does no more than 0.26 % (5 mm of 1.7 m move one end's scale by 0.3 %).
    /// </summary>
    [Theory]
    [InlineData(5, 0)]
    [InlineData(-5, 0)]
    [InlineData(0, 1)]
    [InlineData(3, -0.7)]
    [InlineData(12, 0)]
    public void ACardSlightlyOffThePlaneIsAllowedFor(double heightMm, double leanDeg)
    {
        int photos = 0;
        int inside = 0;
        List<string> errors = [];
        for (int seed = 0; seed < 20; seed++)
        {
            SyntheticCards scene = new(seed);
            StandingCard[] cards = [.. SyntheticCards.Two];
            cards[1] = cards[1] with { HeightMm = heightMm, LeanXDeg = leanDeg };
            Outcome<PlaneSolution> outcome = PlaneSolver.Solve(scene.See(cards, NoisePx), scene.Info);
            if (outcome.Findings.Any(f => f.Severity == Severity.Review))
                continue;
            (Vec2 a, Vec2 b) = (scene.Plane.ToPhoto(new(-400, 0)), scene.Plane.ToPhoto(new(600, 100)));
            RodPlane plane = outcome.Value!.Plane;
            double off = PlaneSolverTests.Length(plane, a, b) - new Vec2(1000, 100).Length;
            photos++;
            errors.Add($"{off:0.0}/{PlaneSolverTests.Uncertainty(plane, a, b):0.0}");
            double allowed = outcome.Findings.Any(f => f.Code == FindingCode.CardsDisagree) ? 1.96 * PlaneSolverTests.Uncertainty(plane, a, b) : 2.6;
            inside += Math.Abs(off) < allowed ? 1 : 0;
        }

        Assert.True(photos >= 15, $"only {photos} of 20 pass without review");
        Assert.True(inside >= 0.9 * photos, $"{inside} of {photos} inside: {string.Join(' ', errors)}");
    }
}

using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Findings;
using DeflectScan.Geometry;

namespace DeflectScan.Tests.Calibration;

public class CalibrationFindingTests
{
    [Fact]
    public void NoCardIsRefused()
    {
        Outcome<PlaneSolution> outcome = PlaneSolver.Solve([], TestPhoto.Info(4032, 3024, 26));
        Assert.True(outcome.IsRefused);
        Assert.Equal(FindingCode.CardMissing, outcome.Findings.Single().Code);
        Assert.Contains("print a card", outcome.Findings[0].Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(7.0, Severity.Review)]
    [InlineData(4.5, Severity.Refusal)]
    public void ATinyCardIsDoubtedAndAHopelessOneRefused(double squarePx, Severity severity)
    {
        SyntheticCards scene = new(1);
        CardSighting[] seen = [.. scene.See(SyntheticCards.Two, 0.05).Select(c => c with { SquarePx = squarePx })];
        Outcome<PlaneSolution> outcome = PlaneSolver.Solve(seen, scene.Info);
        Assert.Equal(severity == Severity.Refusal, outcome.IsRefused);
        Assert.Contains(outcome.Findings, f => f.Code == FindingCode.CardTooSmall && f.Severity == severity);
    }

    [Fact]
    public void APhotoThatSaysNothingOfItsLensIsNotedAndStillMeasured()
    {
        SyntheticCards scene = new(2);
        Outcome<PlaneSolution> outcome = PlaneSolver.Solve(scene.See(SyntheticCards.Two, 0.05), scene.Info with { FocalLength35Mm = null });
        Assert.Equal("none", outcome.Value!.Lens);
        Finding finding = Assert.Single(outcome.Findings);
        Assert.Equal((FindingCode.LensUnknown, Severity.Note), (finding.Code, finding.Severity));
    }

    [Theory]
    [InlineData(26, Severity.Note)]
    [InlineData(40, Severity.Review)]
    public void AStrongTiltIsNamed(double degrees, Severity severity)
    {
        SyntheticCards scene = new(5, 0.2, degrees);
        Outcome<PlaneSolution> outcome = PlaneSolver.Solve(scene.See(SyntheticCards.Two, 0.05), scene.Info);
        Assert.Equal(degrees, outcome.Value!.TiltDeg, 2.0);
        Assert.Contains(outcome.Findings, f => f.Code == FindingCode.TiltLarge && f.Severity == severity);
    }

    /// <summary>A focal length that the file states wrongly by a factor of two never passes in silence.</summary>
    [Theory]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(8)]
    public void AWrongFocalLengthInTheFileIsNoticed(int seed)
    {
        SyntheticCards scene = new(seed, 8);
        Outcome<PlaneSolution> outcome = PlaneSolver.Solve(scene.See(SyntheticCards.Three, 0.05), scene.Info with { FocalLength35Mm = 52 });
        Assert.Contains(outcome.Findings, f => f.Code is FindingCode.LensUnknown or FindingCode.CardsDisagree or FindingCode.CardOffPlane);
    }

    /// <summary>Corners that belong to no card whatever end in a refusal or a doubt, never in an exception and never in silence.</summary>
    [Fact]
    public void CornersOfNoCardAreNotMeasuredFrom()
    {
        Random random = new(1);
        for (int round = 0; round < 30; round++)
        {
            int count = random.Next(6, 25);
            CardSighting[] seen =
            [
                .. Enumerable.Range(0, 1 + (round % 2)).Select(c => new CardSighting(
                    ScaleCard.Letters[c], 3, 40,
                    [.. Enumerable.Range(0, count).Select(i => new CardCorner(i, new Vec2(random.NextDouble() * 4032, random.NextDouble() * 3024)))])),
            ];
            Outcome<PlaneSolution> outcome = PlaneSolver.Solve(seen, TestPhoto.Info(4032, 3024, 26));
            Assert.Contains(outcome.Findings, f => f.Severity != Severity.Note);
        }
    }
}

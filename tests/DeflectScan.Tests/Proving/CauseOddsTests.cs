using DeflectScan.Proving;
using DeflectScan.Scenes.Proofs;
using DeflectScan.Scenes.Samples;
using DeflectScan.Tests.Pipeline;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Integration;

namespace DeflectScan.Tests.Proving;

/// <summary>How causes are weighed against each other and against chance.</summary>
[Collection(Measured.Collection)]
public class CauseOddsTests
{
    private static readonly HandReading[] Read = [new(ReadingKind.Station, 1, null, 404.5, 1), new(ReadingKind.Station, 2, null, 216.75, 1), new(ReadingKind.Gap, 2, null, 21.4, 0.3)];

    /// <summary>The marginal likelihood over a cause's size, against MathNet's quadrature of the normal density times the moment prior's, t² exp(-t²/2s²) / (s³ √(2π)).</summary>
    [Theory]
    [InlineData(0.02)]
    [InlineData(0.002)]
    public void ACausesOddsAreTheIntegralOverItsSize(double priorSd)
    {
        ReadingsModel model = ReadingsModel.Of(PhotoFigures.Of(SampleMeasurement.Ok).Value!, Read)!;
        double With(double t) => Math.Exp(-0.5 * (model.ChiSquareOf([.. model.DifferencesMm.Select((d, i) => d - (t * model.PhotoMm[i]))]) - model.ChiSquare))
            * t * t / (priorSd * priorSd) * Normal.PDF(0, priorSd, t);
        double integral = GaussLegendreRule.Integrate(With, -10 * priorSd, 0, 512) + GaussLegendreRule.Integrate(With, 0, 10 * priorSd, 512);
        Assert.Equal(Math.Log(integral), Slab.Fit(model, [model.PhotoMm], [priorSd])!.LogFactor, 6);
    }

    /// <summary>Every figure is 1 % longer, and a card that moves them in proportion explains that as a print does: both are said, with the reading that decides.</summary>
    [Fact]
    public void CausesThatExplainAlikeAreBothNamed()
    {
        Measurement m = SampleMeasurement.Ok;
        double[] figures = [402, 215.25, 27.1, 21.2];
        m = m with { Covariance = m.Covariance! with { CardsOff = [new CardOffEffect('B', [.. figures.Select(f => f / 500)])] } };
        ProofReport p = ProofRule.Of(m, [.. Read.Select((r, i) => r with { Mm = new[] { 402, 215.25, 21.2 }[i] * 1.02 })]).Value!;
        Assert.Equal([ProofCause.CardOff, ProofCause.PrintScale], p.Alike.Select(c => c.Cause).Order().Reverse());
        Assert.Contains(p.Says, s => s.StartsWith("These readings do not tell apart ", StringComparison.Ordinal));
        Assert.Contains("it reads 102", p.Causes.Single(c => c.Cause == ProofCause.PrintScale).Do, StringComparison.Ordinal);
    }

    /// <summary>Two cards that do the same to every figure: either may be it.</summary>
    [Fact]
    public void CardsThatExplainAlikeAreBothNamed()
    {
        Measurement m = SampleMeasurement.Ok;
        double[] effect = [0.1, 0.5, 0, 0];
        m = m with { Covariance = m.Covariance! with { CardsOff = [new CardOffEffect('A', effect), new CardOffEffect('B', effect)] } };
        ProofReport p = ProofRule.Of(m, [Read[0] with { Mm = 403.5 }, Read[1] with { Mm = 221.25 }, Read[2] with { Mm = 21.2 }, new HandReading(ReadingKind.Station, 1, 2, 182, 1)]).Value!;
        Assert.Contains("About as likely: card", p.Causes.Single(c => c.Cause == ProofCause.CardOff).Says, StringComparison.Ordinal);
    }

    /// <summary>Where chance does as well as a cause, the cause is a suspicion, and photo and hand agree all the same.</summary>
    [Fact]
    public void ASuspicionIsNoContradiction()
    {
        ProofReport[] all = [.. Enumerable.Range(0, 12).Select(k => ProofRule.Of(SampleMeasurement.Ok, [.. Read.Take(2).Select(r => r with { Mm = (r.From == 1 ? 402 : 215.25) * (1 + (0.001 * k)) }), Read[2] with { Mm = 21.2 }]).Value!)];
        ProofReport[] suspected = [.. all.Where(p => p is { IsSure: false, Causes.Count: > 0 })];
        Assert.NotEmpty(suspected);
        Assert.All(suspected, p => Assert.Contains(p.Says, s => s.StartsWith("A suspicion, no finding", StringComparison.Ordinal)));
        Assert.All(all, p => Assert.Equal(p.IsSure || p.Probability < 0.05 ? ProofVerdict.Disagree : ProofVerdict.Agree, p.Verdict));
        Assert.True(all[0].Causes.Count == 0 && all[^1].IsSure);
    }

    /// <summary>The judge that bounds what can be found: over as many proofs with a fault as with none, his probabilities of a fault add up to their number.</summary>
    [Theory]
    [InlineData(ProofFault.CardOff)]
    [InlineData(ProofFault.UnitsDigit)]
    [InlineData(ProofFault.TensDigit)]
    [InlineData(ProofFault.PrintScale)]
    public void ThePerfectJudgesProbabilitiesHold(ProofFault fault)
    {
        Measurement photo = Measured.Photo("clean-spinning");
        double[] p =
        [
            .. new[] { ProofFault.None, fault }.SelectMany(f => Enumerable.Range(1, 150).Select(seed => SimulatedProof.Draw(photo, 2, f, seed).Report))
                .Select(r => 1 / (1 + Math.Exp(-PerfectJudge.LogRatios(photo, [.. r.Readings.Select(x => x.Reading)])[fault]))),
        ];
        Assert.InRange(p.Sum() - 150, -3 * Math.Sqrt(p.Sum(x => x * (1 - x))) - 0.5, (3 * Math.Sqrt(p.Sum(x => x * (1 - x)))) + 0.5);
        Assert.True(p[150..].Average() > p[..150].Average() + 0.2);
    }
}

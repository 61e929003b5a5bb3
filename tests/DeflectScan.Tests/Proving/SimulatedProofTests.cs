using DeflectScan.Proving;
using DeflectScan.Scenes.Proofs;
using DeflectScan.Tests.Pipeline;

namespace DeflectScan.Tests.Proving;

/// <summary>The campaign "proof" in small, on one photo of two cards: the statistics where nothing is wrong, and what was put wrong named first.</summary>
[Collection(Measured.Collection)]
public class SimulatedProofTests
{
    private static Measurement Photo => Measured.Photo("clean-spinning");

    [Theory]
    [InlineData(1)]
    [InlineData(0.3)]
    public void WithNothingWrongTheStatisticsAreThoseOfChance(double readingMm)
    {
        ProofReport[] all = [.. Draws(readingMm, ProofFault.None, 100)];
        double above = (double)all.Sum(p => p.Readings.Count(r => r.En > 1)) / all.Sum(p => p.Readings.Count);
        Assert.InRange(above, 0.03, 0.07); // two standard uncertainties of the normal law: 4.6 %
        Assert.True(Uniformity.Probability(all.Select(p => p.Probability)) > 0.01);
        Assert.True(all.Count(p => p.Causes.Count == 0) >= 95);
    }

    [Theory]
    [InlineData(ProofFault.PrintScale, 1)]
    [InlineData(ProofFault.PrintScale, 0.3)]
    [InlineData(ProofFault.TensDigit, 1)]
    [InlineData(ProofFault.TensDigit, 0.3)]
    [InlineData(ProofFault.CountedTwiceInPhoto, 1)]
    [InlineData(ProofFault.CountedTwiceAtRod, 0.3)]
    [InlineData(ProofFault.CardOff, 0.3)]
    public void WhatWasPutWrongIsNamedFirst(ProofFault fault, double readingMm)
    {
        ProofReport[] all = [.. Draws(readingMm, fault, 20)];
        Assert.True(all.Count(p => p.Causes is [{ } first, ..] && first.Cause == SimulatedProof.Expected(fault)) >= 19);
        Assert.All(all.Where(p => p.Causes.Count > 0), p => Assert.Equal(ProofVerdict.Disagree, p.Verdict));
    }

    /// <summary>The test of uniformity itself: squares of even numbers are not spread evenly, even numbers are.</summary>
    [Fact]
    public void UnevenProbabilitiesAreSeen()
    {
        double[] even = [.. Enumerable.Range(0, 200).Select(i => (i + 0.5) / 200)];
        Assert.True(Uniformity.Probability(even) > 0.9);
        Assert.True(Uniformity.Probability(even.Select(v => v * v)) < 0.001);
    }

    private static IEnumerable<ProofReport> Draws(double readingMm, ProofFault fault, int count) =>
        Enumerable.Range(1, count).Select(seed => SimulatedProof.Draw(Photo, readingMm, fault, seed).Report);
}

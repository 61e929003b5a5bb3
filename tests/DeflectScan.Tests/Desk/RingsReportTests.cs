using DeflectScan.Desk;
using DeflectScan.Layout.OnRings;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Desk;

public class RingsReportTests
{
    private static readonly MeasuredLayout Casting = MeasuredLayout.Of(TruthDocument.Of("casting-top")).Value!;

    /// <summary>F = 2 T sin(θ/2) for a frictionless pulley (textbook), with the truth's own line angles.</summary>
    [Fact]
    public void EveryRingsLoadFollowsFromTheTruthsAngle()
    {
        Truth truth = Repository.Truth("clean-spinning");
        RingsReport report = RingsReport.Of(MeasuredLayout.Of(TruthDocument.Of(truth)).Value!, new() { PullN = 12 }, 0.3);
        Assert.Equal(truth.Guides.Count, report.Rings.Count);
        for (int i = 0; i < report.Rings.Count; i++)
        {
            Assert.Equal(2 * 12 * Math.Sin(truth.Guides[i].LineAngleDeg * Math.PI / 360), report.Rings[i].LoadN, 0.03);
            Assert.False(report.Rings[i].Kink);
        }

        Assert.Empty(report.OnBlank);
        Assert.Null(report.Onset);
        Assert.Equal(12, report.PullAtReelN, 1e-12);
    }

    /// <summary>Euler and Eytelwein: the pulls at both ends differ by e to friction times the whole angle.</summary>
    [Fact]
    public void FrictionFollowsFromTheWholeAngle()
    {
        RingsReport report = RingsReport.Of(Casting, new() { PullN = 10, Friction = 0.2, FrictionOnBlank = 0.2, Motion = LineMotion.TowardReel }, 0.3);
        double angle = (report.Rings.Sum(r => r.LineAngleDeg) + report.OnBlank.Sum(c => c.WrapDeg)) * Math.PI / 180;
        Assert.Equal(Math.Exp(0.2 * angle), report.FrictionFactor, 0.01);
        Assert.Equal(10 * report.FrictionFactor, report.PullAtReelN, 1e-9);
    }

    [Fact]
    public void OutsideTheBendTheLineTouchesTheBlankWhereTheTruthSays()
    {
        Truth truth = Repository.Truth("casting-top");
        int[] wrapped = [.. truth.Intervals.Skip(1).Select((v, i) => (v.WrapsBlank, i + 1)).Where(p => p.WrapsBlank).Select(p => p.Item2)];
        RingsReport report = RingsReport.Of(Casting, new(), truth.Line.DiameterMm);
        Assert.Equal(wrapped, report.OnBlank.Select(c => c.From));
        Assert.All(report.OnBlank, c => Assert.InRange(c.StartMm, Casting.Rings[c.From].StationMm, Casting.Rings[c.From - 1].StationMm));
        Assert.Contains(report.Notes, n => n.Contains($"between guide {wrapped[0]} and guide {wrapped[0] + 1} lies within the uncertainty", StringComparison.Ordinal));
        Assert.NotNull(report.Onset);
        Assert.InRange(report.Onset.OfMeasuredBend, 0.9, 1.1);
        Assert.Equal(report.Onset.OfMeasuredBend * report.TipTurnDeg, report.Onset.TipTurnDeg, 1e-9);
    }
}

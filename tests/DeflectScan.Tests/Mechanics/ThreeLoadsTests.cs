using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rods;

namespace DeflectScan.Tests.Mechanics;

/// <summary>
/// One rod in exact shapes at three loads (tip turned 40, 68 and 98 degrees; no own weight, no rest curve; the truth files of three
/// rendered photographs, solved by another program): each estimated from its shape, and the others predicted. The picture's own noise is
/// left out here; a little is added.
/// </summary>
public class ThreeLoadsTests
{
    public static TheoryData<string, string> Pairs() => new()
    {
        { "light", "mid" }, { "light", "deep" }, { "mid", "light" }, { "mid", "deep" }, { "deep", "light" }, { "deep", "mid" },
    };

    [Theory]
    [MemberData(nameof(Pairs))]
    public void EachLoadPredictsTheOthers(string from, string to)
    {
        Truth there = ThreeLoadsOf.Load(to);
        double factor = there.Blank.ForceRelative / ThreeLoadsOf.Load(from).Blank.ForceRelative;
        StiffnessEstimate estimate = Estimated([ThreeLoadsOf.Measured(ThreeLoadsOf.Load(from), 1, 0.1)]);
        Outcome<PredictedBend> predicted = BendPredictor.AtFactor(estimate, factor);
        Assert.False(predicted.IsRefused);
        ArcCurve truth = ThreeLoadsOf.Axis(there);
        double[] off = [.. predicted.Value.Bend.PointsMm.Select(p => Math.Abs(truth.Nearest(p).Offset)).Order()];
        Assert.True(off[(int)(0.95 * off.Length)] < 4, $"{from} to {to}: 95 % {off[(int)(0.95 * off.Length)]:0.00} mm, most {off[^1]:0.00} mm");

        RodFigures layout = ThreeLoadsOf.Layout(there);
        AssertAlike(layout.Gaps(truth), layout.Gaps(predicted.Value.Curve), $"gaps {from} to {to}");
        AssertAlike(layout.Bows(truth), layout.Bows(predicted.Value.Curve), $"bows {from} to {to}");
        for (int i = 0; i < predicted.Value.Bend.StationsMm.Count; i += 10)
        {
            double across = Math.Abs(truth.Nearest(predicted.Value.Bend.PointsMm[i]).Offset);
            Assert.True(across < (3 * predicted.Value.NormalSdMm[i]) + 0.1, $"{across:0.00} mm off, stated {predicted.Value.NormalSdMm[i]:0.00}");
        }
    }

    [Fact]
    public void ThreePhotosTellTheRatiosOfTheirLoads()
    {
        Truth[] truths = [ThreeLoadsOf.Load("mid"), ThreeLoadsOf.Load("light"), ThreeLoadsOf.Load("deep")];
        StiffnessEstimate estimate = Estimated([.. truths.Select((t, i) => ThreeLoadsOf.Measured(t, i, 0.1))]);
        for (int i = 1; i < 3; i++)
        {
            double expected = truths[i].Blank.ForceRelative / truths[0].Blank.ForceRelative;
            Assert.Equal(1, estimate.Photos[i].ForceRatio / expected, 0.02);
        }
    }

    [Fact]
    public void ABendBeyondTheMeasuredOneAndBeyondSquareSaysSo()
    {
        StiffnessEstimate estimate = Estimated([ThreeLoadsOf.Measured(ThreeLoadsOf.Load("mid"), 1, 0.1)]);
        IReadOnlyList<Finding> deeper = BendPredictor.AtTipTurn(estimate, 100).Findings;
        Assert.Equal(2, deeper.Count(f => f.Code == FindingCode.BendExcessive));
        Assert.Empty(BendPredictor.AtTipTurn(estimate, 40).Findings);
    }

    [Fact]
    public void ATipTurnNeedsTheLoadThatItWasMadeWith()
    {
        Truth light = ThreeLoadsOf.Load("light");
        StiffnessEstimate estimate = Estimated([ThreeLoadsOf.Measured(ThreeLoadsOf.Load("deep"), 1, 0.1)]);
        PredictedBend predicted = BendPredictor.AtTipTurn(estimate, estimate.Photos[0].TipTurnDeg * 0.4).Value!;
        Assert.Equal(estimate.Photos[0].TipTurnDeg * 0.4, predicted.Bend.TipTurnDeg, 1e-5);
        predicted = BendPredictor.AtTipTurn(estimate, light.Blank.TipTurnDeg).Value!;
        double expected = light.Blank.ForceRelative / ThreeLoadsOf.Load("deep").Blank.ForceRelative;
        Assert.Equal(1, predicted.LoadFactor / expected, 0.02);
        Assert.True(Math.Abs(predicted.LoadFactor - expected) < 3 * predicted.LoadFactorSd);
    }

    private static void AssertAlike(IReadOnlyList<double> expected, IReadOnlyList<double> actual, string what)
    {
        for (int i = 0; i < expected.Count; i++)
            Assert.True(Math.Abs(expected[i] - actual[i]) < 0.8, $"{what}, pair {i}: {actual[i]:0.00} is not {expected[i]:0.00}");
    }

    private static StiffnessEstimate Estimated(IReadOnlyList<MeasuredBend> bends)
    {
        Outcome<StiffnessEstimate> outcome = StiffnessEstimator.Estimate(bends);
        Assert.False(outcome.IsRefused);
        return outcome.Value;
    }
}

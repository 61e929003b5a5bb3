using DeflectScan.Bending;
using DeflectScan.Geometry;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;
using DeflectScan.Scenes.Rods;

namespace DeflectScan.Tests.Bending;

/// <summary>Made-up rods of 2 m bent by the forward solver (itself checked against elastica tables), of which the last stretch before the clamp is not seen.</summary>
public class UnseenSearchTests
{
    private const double NoiseMm = 0.2;

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData(0)]
    public void TheUnseenLengthFollowsFromHowTheHeldEndTurnsMore(double unseenMm) => TheUnseenLengthFollowsFromHowTheHeldEndTurns(unseenMm);

    [Theory]
    [InlineData(250)]
    public void TheUnseenLengthFollowsFromHowTheHeldEndTurns(double unseenMm)
    {
        int inside = 0;
        int all = 0;
        for (int seed = 1; seed <= 8; seed++)
        {
            Random random = new(seed);
            SyntheticRod rod = new((Taper)(seed % 4), true, 0.588, 0.02);
            double load = rod.LoadFor(85);
            MeasuredBend[] photos = [Photo(rod, load, unseenMm, 0, random), Photo(rod, 0, unseenMm, BlankSource.ClampGivesDeg * SyntheticRod.Normal(random), random)];
            HeldEnd held = HeldEnd.Of(true, null, options => StiffnessEstimator.Estimate(photos, rod.Weight, options).Value);
            UnseenLength found = Found(photos, rod.Weight)!;
            Assert.True(Math.Abs(found.Mm - unseenMm) < 3 * found.SdMm, $"seed {seed}: {found.Mm:0} ±{2 * found.SdMm:0} mm");
            Assert.NotNull(held.Options.UnseenFound);

            // The estimate that rests on it predicts the seen part at other loads within what it states, where it really is.
            StiffnessEstimate estimate = StiffnessEstimator.Estimate(photos, rod.Weight, held.Options).Value!;
            foreach (double factor in (double[])[0.5, 1.5])
            {
                PredictedBend predicted = BendPredictor.AtFactor(estimate, factor).Value!;
                Bend truth = rod.Bend(load * factor);
                inside += predicted.Bend.PointsMm[0].DistanceTo(truth.PointsMm[0]) <= 2 * predicted.PlaceSdMm(0) ? 1 : 0;
                all++;
                Assert.True(predicted.PlaceSdMm(0) < 10, $"seed {seed}: stated {2 * predicted.PlaceSdMm(0):0.0} mm");
            }
        }

        Assert.True(inside >= 0.88 * all, $"{inside} of {all}");
    }

    [Fact]
    public void LoadsThatAreAlikeTellNothing()
    {
        Random random = new(5);
        SyntheticRod rod = new(Taper.Moderate, false, 0.588, 0.02);
        double load = rod.LoadFor(85);
        Assert.Null(Found([Photo(rod, load, 250, 0, random), Photo(rod, 1.02 * load, 250, 0, random)], rod.Weight));
    }

    private static UnseenLength? Found(IReadOnlyList<MeasuredBend> photos, OwnWeight weight) =>
        UnseenSearch.Of(mm => StiffnessEstimator.Estimate(photos, weight, new StiffnessOptions { UnseenMm = mm }).Value, BlankSource.ClampGivesDeg);

    private static MeasuredBend Photo(SyntheticRod rod, double loadN, double unseenMm, double turnedDeg, Random random)
    {
        IReadOnlyList<Vec2> whole = SyntheticRod.Measure(rod.Bend(loadN, turnedDeg), NoiseMm, random);
        MeasuredBend seen = new([.. whole.Take(whole.Count - (int)(unseenMm / 5))]) { NormalSdMm = NoiseMm, TipSdMm = 0.5 };
        return loadN == 0 ? seen : seen with { CordDirectionDeg = -90 + (0.05 * SyntheticRod.Normal(random)), CordDirectionSdDeg = 0.05, LoadN = loadN, LoadSdShare = 0.002 };
    }
}

using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Mechanics;

namespace DeflectScan.Tests.Mechanics;

public class LargeDeflectionTests
{
    private const double Length = 1000;
    private static readonly Clamp Level = new(new Vec2(0, 0), 0);

    [Fact]
    public void PerpendicularLoadGivesTheRecomputedTableToEightDigits()
    {
        foreach (double[] row in ElasticaTables.Rows(ElasticaTables.Perpendicular))
            AssertShape(row[1], row[2], row[3], Uniform(90, row[0]), 1e-8);
    }

    [Fact]
    public void PerpendicularLoadGivesAllDigitsThatMattiassonPrints()
    {
        foreach (double[] row in ElasticaTables.Rows(ElasticaTables.Mattiasson))
        {
            Bend bend = Uniform(90, row[0]);
            Assert.Equal(row[1], Math.Round(bend.TipMm.Y / Length, 5), 1e-12);
            Assert.Equal(row[2], Math.Round(1 - (bend.TipMm.X / Length), 5), 1e-12);
        }
    }

    [Fact]
    public void InclinedLoadGivesTheRecomputedTableToEightDigits()
    {
        foreach (double[] row in ElasticaTables.Rows(ElasticaTables.Inclined))
            AssertShape(row[2], row[3], row[4], Uniform(row[0], row[1]), 1e-8);
    }

    [Fact]
    public void FollowerLoadGivesTheRecomputedTable()
    {
        foreach (double[] row in ElasticaTables.Rows(ElasticaTables.Follower))
        {
            BlankModel blank = BlankModel.Uniform(Length, 1e6);
            Bend bend = Solved(blank, new FollowingTip(row[0], 90));
            AssertShape(row[1], row[2], row[3], bend, 1e-8);
        }
    }

    [Fact]
    public void TaperedBlankGivesTheRecomputedTableToSixDigits()
    {
        foreach (double[] row in ElasticaTables.Rows(ElasticaTables.Tapered))
        {
            double tau = row[0];
            BlankModel cone = new(Length, s => 1e6 * Math.Pow(1 - (tau * (1 - (s / Length))), 4));
            AssertShape(row[3], row[4], row[5], Solved(cone, new FixedDirection(row[2], row[1])), 1e-6);
        }
    }

    [Theory]
    [InlineData(0.2)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(5)]
    [InlineData(10)]
    public void CurvatureAtTheClampObeysTheFreeIdentities(double alpha)
    {
        // First integral of the elastica and the moment balance about the clamp; exact.
        Bend bend = Uniform(90, alpha);
        double clamp = bend.CurvaturesPerMm[^1] * Length;
        Assert.Equal(Math.Sqrt(2 * alpha * Math.Sin(bend.AnglesRad[0])), clamp, 1e-8);
        Assert.Equal(alpha * bend.TipMm.X / Length, clamp, 1e-8);
        Assert.Equal(0, bend.CurvaturesPerMm[0]);
    }

    [Fact]
    public void TheDefaultSettingKeepsSixDigitsOfEveryTable()
    {
        foreach (double[] row in ElasticaTables.Rows(ElasticaTables.Inclined))
        {
            Bend bend = Solved(BlankModel.Uniform(Length, 1e6), new FixedDirection(row[1], row[0]), new BendOptions());
            AssertShape(row[2], row[3], row[4], bend, 2e-6);
        }
    }

    [Theory]
    [InlineData(60)]
    [InlineData(135)]
    [InlineData(150)]
    public void ACordToTheAnchorPullsLikeADeadLoadAlongTheSameLine(double direction)
    {
        FixedDirection dead = new(3, direction);
        Bend expected = Solved(BlankModel.Uniform(Length, 1e6), dead);
        Vec2 anchor = expected.TipMm + (expected.TipForceN.Normalized() * 600);
        Bend cord = Solved(BlankModel.Uniform(Length, 1e6), new TowardsAnchor(3, anchor));
        Assert.True(cord.TipMm.DistanceTo(expected.TipMm) < 1e-6, $"{cord.TipMm} is not {expected.TipMm}");
        Assert.Equal(0, (anchor - cord.TipMm).Normalized().Cross(cord.TipForceN.Normalized()), 1e-9);
    }

    [Fact]
    public void WeightAlongTheBlankCarriesItsMomentToTheClamp()
    {
        // Equilibrium: the clamp's moment is that of all weights and the pull about the clamp, whatever the shape.
        BlankModel blank = BlankModel.Uniform(Length, 2e5).WithWeight(s => 1e-4 * (1 + (s / Length))) with
        {
            PointWeights = [new PointWeight(0, 0.02), new PointWeight(333, 0.05)],
        };
        Bend bend = Solved(blank, new FixedDirection(0.3, -60));
        double moment = bend.TipMm.Cross(bend.TipForceN) + (bend.TipMm.X * -0.02) + (bend.PointAt(333).X * -0.05);
        for (int i = 0; i + 1 < bend.StationsMm.Count; i++)
        {
            double middle = (bend.StationsMm[i] + bend.StationsMm[i + 1]) / 2;
            double weight = 1e-4 * (1 + (middle / Length)) * (bend.StationsMm[i + 1] - bend.StationsMm[i]);
            moment -= bend.PointAt(middle).X * weight;
        }

        Assert.Equal(moment, bend.MomentsNmm[^1], 1e-4 * Math.Abs(moment));
    }

    [Fact]
    public void ABlankWithAPermanentSetKeepsItWhenNothingPulls()
    {
        BlankModel set = BlankModel.Uniform(Length, 1e6) with { NaturalCurvaturePerMm = _ => 5e-4 };
        Bend bend = Solved(set, new FixedDirection(0, 90));
        Assert.Equal(Math.Sin(0.5) / 5e-4, bend.TipMm.X, 1e-6);
        Assert.Equal((1 - Math.Cos(0.5)) / 5e-4, bend.TipMm.Y, 1e-6);
    }

    private static Bend Uniform(double beta, double alpha) => Solved(BlankModel.Uniform(Length, 1e6), new FixedDirection(alpha, beta));

    private static Bend Solved(BlankModel blank, EndLoad load, BendOptions? options = null)
    {
        Outcome<Bend> outcome = BendSolver.Solve(blank, Level, load, options ?? BendOptions.Table);
        Assert.False(outcome.IsRefused, $"{load} was refused");
        return outcome.Value;
    }

    private static void AssertShape(double u, double w, double theta, Bend bend, double relative)
    {
        Near(u, 1 - (bend.TipMm.X / Length));
        Near(w, bend.TipMm.Y / Length);
        Near(theta, bend.AnglesRad[0]);
        void Near(double expected, double actual) =>
            Assert.True(Math.Abs(actual - expected) <= relative * Math.Abs(expected) + 6e-10, $"{actual:R} is not {expected:R}");
    }
}

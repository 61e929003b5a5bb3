using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Layout.Spacing;
using DeflectScan.Scenes.Rods;

namespace DeflectScan.Tests.Layout;

/// <summary>Bends of exactly known curvature: circle and clothoid, in closed form and recomputed by an independent program.</summary>
public class KnownBendTests
{
    private const double RadiusMm = 1000;

    /// <summary>A circle of 1 m radius, drawn 100 mm beyond both ends of a 1 m arc, as a natural spline flattens its very ends.</summary>
    internal static readonly BlankShape Circle = new(
        ArcCurve.Through([.. Enumerable.Range(0, 1201).Select(i => (i - 100) / RadiusMm).Select(a => new Vec2(Math.Sin(a), 1 - Math.Cos(a)) * RadiusMm)]),
        _ => 2);

    [Theory]
    [InlineData(1000, 0)]
    [InlineData(700, 150)]
    [InlineData(333.3, 300)]
    public void TheCirclesBowIsItsSagitta(double from, double to)
    {
        double half = (from - to) / RadiusMm / 2;
        Interval i = Measure(Circle, 100 + from, 100 + to, 0);
        Assert.Equal(RadiusMm * (1 - Math.Cos(half)), i.BowMm, 1e-9 * RadiusMm);
        Assert.Equal(100 + ((from + to) / 2), i.BowAtMm, 1e-2);
        Assert.Equal(2 * RadiusMm * Math.Sin(half), i.ChordMm, 1e-6);
    }

    [Theory]
    [InlineData(GuideSide.Inside, 10)]
    [InlineData(GuideSide.Outside, 30)]
    public void TheCirclesGapAndClearanceFollowFromItsRadius(GuideSide side, double height)
    {
        // Rings at radius R ∓ h: their chord's nearest point to the centre lies at (R ∓ h) cos(φ/2).
        Interval i = Measure(Circle, 900, 500, height, side);
        double ring = side == GuideSide.Inside ? RadiusMm - height : RadiusMm + height;
        double middle = Math.Abs(RadiusMm - (ring * Math.Cos(0.2))) - 2;
        double end = height - 2;
        Assert.Equal(Math.Max(middle, end), i.GapMm, 1e-6);
        Assert.Equal(Math.Min(middle, end), i.ClearanceMm, 1e-6);
        Assert.False(i.TouchesBlank);
        Assert.Equal(0, i.InTheWayMm);
    }

    [Fact]
    public void AChordThatCutsTheBlankTouchesItAndSaysHowMuchIsInTheWay()
    {
        Interval i = Measure(Circle, 900, 500, 5, GuideSide.Outside);
        double behind = RadiusMm - ((RadiusMm + 5) * Math.Cos(0.2));
        Assert.True(behind > 0);
        Assert.True(i.TouchesBlank);
        Assert.Equal(-2, i.ClearanceMm, 1e-4);
        Assert.Equal(behind + 2, i.InTheWayMm, 1e-6);
        Assert.Equal(behind - 2, i.GapMm, 1e-6);
    }

    [Theory]
    [InlineData(4, 7.802333, 1e-5)]
    [InlineData(7, 2.549936, 8e-3)]
    public void OnTheCircleEqualBowIsEqualSpacing(int intervals, double bowMm, double toleranceMm)
    {
        // A quarter of 1 m lies on the half-millimetre grid, a seventh does not.
        SpacingOptions options = new() { GridMm = 0.5, LeastSpacingMm = 1 };
        Assert.True(SpacingRule.TryBest(Circle, RunningSpan.ForBow(1100, 100), intervals - 1, options, out SpacingPlan? plan));
        Assert.Equal(bowMm, plan.LargestMm, toleranceMm);
        Assert.All(plan.StationsMm, (s, i) => Assert.Equal(1100 - (1000.0 * (i + 1) / intervals), s, 2.0));
    }

    /// <summary>
    /// κ = s in 1/m over 1 m. The exact optimum by Fresnel integrals and root finding of another program (scipy); its asymptote, knots at
    /// (i/n)^(2/3) and the bow 1/(18 n²) m, is 3.8 % below it for 4 intervals and 2.2 % for 7, its knots within 1.4 % of the length.
    /// </summary>
    [Theory]
    [InlineData(4, 3.603343, 0.382992, 0.622317, 0.822095)]
    [InlineData(7, 1.158289, 0.262348, 0.426275, 0.563109, 0.684957, 0.796792, 0.901265)]
    public void OnTheClothoidTheBestSpacingIsTheExactOne(int intervals, double bowMm, params double[] knots)
    {
        // s = 0 of the clothoid, where it is straight, is the tip; spacing therefore grows toward the tip, which must be allowed here.
        BlankShape clothoid = RandomBlank.Make(s => s * 1e-6, 1000);
        SpacingOptions options = new() { GridMm = 0.25, LeastSpacingMm = 20, NotGrowingTowardTip = false };
        Assert.True(SpacingRule.TryBest(clothoid, RunningSpan.ForBow(1000, 0), intervals - 1, options, out SpacingPlan? plan));
        Assert.Equal(bowMm, plan.LargestMm, bowMm * 0.005);
        for (int i = 0; i < knots.Length; i++)
        {
            Assert.Equal(knots[i] * 1000, plan.StationsMm[^(i + 1)], 1.0);
            Assert.Equal(Math.Pow((i + 1.0) / intervals, 2.0 / 3) * 1000, plan.StationsMm[^(i + 1)], 30.0);
        }
    }

    [Fact]
    public void EachFurtherGuideLowersTheLargestBowAndTheFewestAreFound()
    {
        BlankShape blank = RandomBlank.Make(new Random(3), 1400, inflection: false);
        RunningSpan span = RunningSpan.ForBow(900, 0);
        IReadOnlyList<SpacingPlan> curve = SpacingRule.Curve(blank, span, 10, new());
        Assert.Equal(11, curve.Count);
        for (int n = 1; n < curve.Count; n++)
            Assert.True(curve[n].LargestMm < curve[n - 1].LargestMm);
        Assert.True(SpacingRule.TryWithin(blank, span, curve[4].LargestMm + 1e-9, new(), out SpacingPlan? fewest));
        Assert.Equal(4, fewest.StationsMm.Count);
        Assert.False(SpacingRule.TryWithin(blank, span, 0.01, new(), out _, mostGuides: 5));
    }

    [Fact]
    public void TheGapIsNeverLessThanTheClearance()
    {
        Random random = new(11);
        for (int c = 0; c < 300; c++)
        {
            BlankShape blank = RandomBlank.Make(random, 800, random.Next(2) == 0);
            GuideSide side = (GuideSide)random.Next(2);
            double from = 100 + (650 * random.NextDouble());
            Interval i = Measure(blank, from, from * random.NextDouble(), 3 + (20 * random.NextDouble()), side);
            Assert.True(i.GapMm >= i.ClearanceMm);
            Assert.True(i.BowMm >= 0 && i.InTheWayMm >= 0);
            Assert.Equal(i.ClearanceMm <= 0, i.TouchesBlank);
            Assert.True(i.TouchesBlank || i.InTheWayMm == 0);
        }
    }

    private static Interval Measure(BlankShape blank, double from, double to, double height, GuideSide side = GuideSide.Inside) =>
        IntervalRule.Measure(blank, RingPoint.At(blank, from, height, side), RingPoint.At(blank, to, height, side), side);
}

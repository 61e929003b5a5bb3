using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Mechanics;
using DeflectScan.Scenes.Rods;

namespace DeflectScan.Tests.Mechanics;

public class LineOnRingsTests
{
    private static readonly SyntheticRod Rod = new(Taper.Moderate, WithFerrule: false, WeightN: 0, SetPerM: 0);

    // A rod that points right and is pulled down: the inside of the bend is below, the blank's negative normal.
    private static readonly IReadOnlyList<RingOnBlank> Inside =
        [.. SyntheticRod.RingsFromButtMm.Zip(SyntheticRod.RingHeightsMm, (s, h) => new RingOnBlank(SyntheticRod.LengthMm - s, -h))];

    private static readonly LinePull Pull = new(1.5, -90, new Vec2(140, 150));

    [Fact]
    public void EachRingGetsTwiceTheTensionTimesTheSineOfHalfTheAngle()
    {
        // F = 2 T sin(θ/2) along the bisector: statics of a string over a frictionless ring.
        LineBend bend = Solved(Inside);
        foreach (RingLoad ring in bend.Rings)
        {
            double expected = 2 * Pull.TensionN * Math.Sin(ring.LineAngleDeg / 2 * Math.PI / 180);
            Assert.Equal(expected, ring.ForceN.Length, 1e-9);
            Assert.Equal(Pull.TensionN, ring.TensionInN, 1e-12);
        }
    }

    [Fact]
    public void WithFrictionTheTensionFallsByTheCapstanEquation()
    {
        // T2 / T1 = exp(μ Σθ) over all rings (Euler-Eytelwein), and the ring's force is the two tensions' resultant.
        LineBend bend = Solved(Inside, Pull with { Friction = 0.15 });
        double turned = bend.Rings.Sum(r => r.LineAngleDeg) * Math.PI / 180;
        Assert.Equal(Pull.TensionN * Math.Exp(-0.15 * turned), bend.Rings[^1].TensionInN, 1e-9);
        RingLoad ring = bend.Rings[0];
        double cosine = Math.Cos(ring.LineAngleDeg * Math.PI / 180);
        double expected = Math.Sqrt(Math.Pow(ring.TensionOutN, 2) + Math.Pow(ring.TensionInN, 2) - (2 * ring.TensionOutN * ring.TensionInN * cosine));
        Assert.Equal(expected, ring.ForceN.Length, 1e-9);
    }

    [Fact]
    public void TheClampCarriesTheOuterPullAndTheLinesOwnTension()
    {
        // Cut through blank and line at the clamp: the moment there is that of the pull beyond the tip-top and of the last piece of line.
        LineBend bend = Solved(Inside);
        Vec2 clamp = bend.Bend.PointsMm[^1];
        Vec2 outer = new(0, -Pull.TensionN);
        Vec2 inner = (Pull.ReelMm - bend.Rings[^1].PlaceMm).Normalized() * Pull.TensionN;
        double expected = (bend.Rings[0].PlaceMm - clamp).Cross(outer) + (bend.Rings[^1].PlaceMm - clamp).Cross(inner);
        Assert.Equal(expected, bend.Bend.MomentsNmm[^1], 1e-5 * Math.Abs(expected));
    }

    [Fact]
    public void ALineAlongTheAxisBendsTheBlankAsTheCordDoes()
    {
        // With rings of no height and close together the line's tension runs along the axis and has no moment about any section.
        Bend cord = Rod.Bend(Pull.TensionN);
        double Off(int rings)
        {
            IReadOnlyList<RingOnBlank> dense = [.. Enumerable.Range(0, rings).Select(i => new RingOnBlank(SyntheticRod.LengthMm * i / rings, 0))];
            return Solved(dense, Pull with { ReelMm = SyntheticRod.Clamp.PlaceMm }).Bend.TipMm.DistanceTo(cord.TipMm);
        }

        double coarse = Off(10);
        double fine = Off(80);
        Assert.True(fine < 1, $"{fine:0.00} mm with 80 rings");
        Assert.True(fine < coarse / 20, $"{coarse:0.00} mm with 10 rings, {fine:0.00} mm with 80");
    }

    [Fact]
    public void HeightOnTheInsideBendsMoreAndOnTheOutsideLess()
    {
        // The line's tension has a moment of tension × height about the axis: on the inside it draws the ends together, as a bowstring does.
        // Straight pieces of line lie nearer the inside than their rings, so only high rings on the outside show the opposite.
        double cord = Rod.Bend(Pull.TensionN).TipTurnDeg;
        IReadOnlyList<RingOnBlank> outside = [.. Inside.Select(r => r with { ArmMm = -3 * r.ArmMm })];
        double inside = Solved(Inside).Bend.TipTurnDeg;
        Assert.True(inside > cord + 0.1, $"{inside:0.00} is not more than the cord's {cord:0.00} degrees");
        Assert.True(Solved(outside).Bend.TipTurnDeg < cord - 0.1);
    }

    [Fact]
    public void AFewOutsideRingsLetTheLineCrossTheBlank()
    {
        IReadOnlyList<RingOnBlank> few = [new(0, 4), new(900, 10), new(1400, 30)];
        Assert.True(Solved(few).LineCrossesBlank);
        Assert.False(Solved(Inside).LineCrossesBlank);
    }

    private static LineBend Solved(IReadOnlyList<RingOnBlank> rings, LinePull? pull = null)
    {
        Outcome<LineBend> outcome = LineOnRings.Solve(Rod.Blank(), SyntheticRod.Clamp, pull ?? Pull, rings);
        Assert.False(outcome.IsRefused);
        return outcome.Value;
    }
}

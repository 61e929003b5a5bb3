using DeflectScan.Geometry;
using DeflectScan.Mechanics;

namespace DeflectScan.Tests.Mechanics;

/// <summary>
/// A steel ruler with its own weight and a weight at the tip: L 0.40 m, 25 mm × 0.4 mm, 0.758 N/m. The experiment is that of T. Belendez,
/// C. Neipp and A. Belendez, Int. J. Engng Ed. 19(6) (2003) 885-892; only its abstract was read. The measured deflections are from memory,
/// so they carry a wide band; the computed columns are our recomputation with another integrator.
/// </summary>
public class SteelRulerTests
{
    [Theory]
    [InlineData(0.000, 0.087452, 0.011094, 0.294255)]
    [InlineData(0.098, 0.148272, 0.033632, 0.537712)]
    [InlineData(0.196, 0.192528, 0.059412, 0.727790)]
    [InlineData(0.294, 0.223920, 0.083786, 0.872747)]
    [InlineData(0.392, 0.246520, 0.105314, 0.984139)]
    [InlineData(0.490, 0.263251, 0.123922, 1.071228)]
    [InlineData(0.588, 0.276006, 0.139954, 1.140588)]
    public void TheNominalRulerGivesTheRecomputedColumns(double pullN, double downM, double shorterM, double turnRad)
    {
        Bend bend = Ruler(200_000, pullN);
        Assert.Equal(downM, -bend.TipMm.Y / 1000, 6e-7);
        Assert.Equal(shorterM, 0.4 - (bend.TipMm.X / 1000), 6e-7);
        Assert.Equal(turnRad, -bend.AnglesRad[0], 6e-7);
    }

    [Theory]
    [InlineData(0.000, 0.089)]
    [InlineData(0.098, 0.149)]
    [InlineData(0.196, 0.195)]
    [InlineData(0.294, 0.227)]
    [InlineData(0.392, 0.251)]
    [InlineData(0.490, 0.268)]
    [InlineData(0.588, 0.281)]
    public void TheMeasuredRulerLiesWithinThreeMillimetresOfTheFittedModulus(double pullN, double recalledM) =>
        Assert.Equal(recalledM, -Ruler(194_300, pullN).TipMm.Y / 1000, 3e-3);

    private static Bend Ruler(double youngNmm2, double pullN)
    {
        double ei = youngNmm2 * 25 * Math.Pow(0.4, 3) / 12;
        BlankModel ruler = BlankModel.Uniform(400, ei).WithWeight(_ => 0.758e-3);
        return BendSolver.Solve(ruler, new Clamp(new Vec2(0, 0), 0), new FixedDirection(pullN, -90)).Value!;
    }
}

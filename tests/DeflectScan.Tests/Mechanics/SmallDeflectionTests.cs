using DeflectScan.Geometry;
using DeflectScan.Mechanics;

namespace DeflectScan.Tests.Mechanics;

/// <summary>The large-deflection solver under a pull so small that the linear theory holds to 1e-8.</summary>
public class SmallDeflectionTests
{
    private const double Length = 1000;
    private const double Young = 50_000; // N/mm²

    [Theory]
    [InlineData(10, 5, 1.35812218105084e-3)]
    [InlineData(10, 2, 3.3953054526271e-3)]
    [InlineData(8, 1.5, 8.84194128288307e-3)]
    [InlineData(12, 1.2, 3.27479306773447e-3)]
    public void SolidRoundTaperFollowsTheClosedForm(double butt, double tip, double tabulated)
    {
        // δ = 64 P L³ / (3 π E db³ dt), slope = 32 P L² (db + 2 dt) / (3 π E db³ dt²): own derivation, checked by quadrature to 15 digits;
        // the tabulated values are δ for P = E = L = 1.
        double closed = 64 / (3 * Math.PI * Math.Pow(butt, 3) * tip);
        Assert.Equal(tabulated, closed, 1e-12);
        BlankModel blank = new(Length, s => Young * Math.PI * Math.Pow(tip + ((butt - tip) * s / Length), 4) / 64);
        double pull = 1e-4 * Length / (closed * Math.Pow(Length, 3) / Young);
        Bend bend = Solved(blank, pull);
        Near(closed * pull * Math.Pow(Length, 3) / Young, bend.TipMm.Y);
        double slope = 32 * (butt + (2 * tip)) / (3 * Math.PI * Math.Pow(butt, 3) * tip * tip);
        Near(slope * pull * Length * Length / Young, bend.AnglesRad[0]);
    }

    [Theory]
    [InlineData(1, 0.5, 0.38629436112)]
    [InlineData(1, 0.8, 0.438237336909)]
    [InlineData(2, 0.5, 0.45482255552)]
    [InlineData(2, 0.8, 0.617626630911)]
    [InlineData(3, 0.5, 0.54517744448)]
    [InlineData(3, 0.8, 0.955933422723)]
    [InlineData(4, 0.5, 2.0 / 3)]
    [InlineData(4, 0.8, 5.0 / 3)]
    public void PowerTapersFollowTheLinearIntegral(int power, double tau, double factor)
    {
        // ∫ (1 − s)² / (1 − τ s)ⁿ ds, times P L³ / EI0: closed forms, checked by quadrature to 15 digits.
        BlankModel blank = new(Length, s => 1e6 * Math.Pow(1 - (tau * (1 - (s / Length))), power));
        double pull = 1e-4 / factor;
        Near(factor * pull * Math.Pow(Length, 3) / 1e6, Solved(blank, pull).TipMm.Y);
    }

    [Fact]
    public void TaperedTubeFollowsTheQuadrature()
    {
        // Db 12, Dt 4, wall 1 mm, E 50 GPa, L 1 m, P 1 N: 29.96679155 mm by quadrature (EI at the butt 26.35010838 N·m²).
        BlankModel tube = new(Length, s => Tube(4 + (8 * s / Length), 1));
        Assert.Equal(26.35010838e6, tube.StiffnessNmm2(Length), 0.01);
        Near(29.96679155e-3, Solved(tube, 1e-3).TipMm.Y);
    }

    [Fact]
    public void ASteppedBlankFollowsTheTwoPartFormula()
    {
        // Virtual work over two uniform parts: P (a³/EI1 + (L³ − a³)/EI2) / 3, a the tip part's length.
        BlankModel stepped = new(Length, s => s < 400 ? 1e6 : 8e6) { JumpsMm = [400] };
        double expected = 1e-3 * ((Math.Pow(400, 3) / 1e6) + ((1e9 - Math.Pow(400, 3)) / 8e6)) / 3;
        Near(expected, Solved(stepped, 1e-3).TipMm.Y);
    }

    [Fact]
    public void OwnWeightSagsByTheTextbookFormula()
    {
        // w L⁴ / 8EI at the tip, and W L³ / 3EI of a weight at the tip (any textbook of strength of materials).
        BlankModel blank = BlankModel.Uniform(Length, 1e6).WithWeight(_ => 1e-7) with { PointWeights = [new PointWeight(0, 1e-4)] };
        Near(-((1e-7 * 1e12 / 8e6) + (1e-4 * 1e9 / 3e6)), Solved(blank, 0).TipMm.Y);
    }

    private static double Tube(double outer, double wall) =>
        Young * Math.PI * (Math.Pow(outer, 4) - Math.Pow(outer - (2 * wall), 4)) / 64;

    private static Bend Solved(BlankModel blank, double pullN) =>
        BendSolver.Solve(blank, new Clamp(new Vec2(0, 0), 0), new FixedDirection(pullN, 90)).Value!;

    private static void Near(double expected, double actual) =>
        Assert.True(Math.Abs(actual - expected) < 1e-6 * Math.Abs(expected), $"{actual:R} is not {expected:R}");
}

using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;
using DeflectScan.Scenes.Rods;

namespace DeflectScan.Tests.Mechanics;

public class BlankDescriptionTests
{
    private static readonly StudySetup Plain = new() { WithFerrule = false, WeightN = 0, SetPerM = 0, GiveRest = false, NoiseMm = 0.2 };

    [Fact]
    public void FiguresOfAnEstimatedBlankAreThoseOfTheMadeUpOne()
    {
        StudyDraw draw = SyntheticStudy.Draw(4, Plain);
        BlankDescription description = BlankDescriber.Describe(draw.Estimate).Value!;
        SyntheticRod rod = new(draw.Taper, false, 0, 0);
        foreach (TipTurnFigure figure in description.Loads)
        {
            (double load, TurningShares turning) = Truth(rod, figure.TipTurnDeg);
            Assert.True(Math.Abs((figure.LoadN!.Value / load) - 1) < 3 * figure.LoadSdShare, $"{figure.LoadN} N is not {load} N");
            Assert.True(figure.LoadSdShare < 0.3);
            Assert.Equal(turning.Tip, figure.Turning.Tip, (3 * figure.TurningSd.Tip) + 0.002);
            Assert.Equal(turning.Butt, figure.Turning.Butt, (3 * figure.TurningSd.Butt) + 0.002);
            Assert.Equal(1, figure.Turning.Tip + figure.Turning.Middle + figure.Turning.Butt, 1e-12);
        }

        foreach (StationFigure s in description.Stations.Where(s => s.IsTold))
            Assert.Equal(1, s.StiffnessNmm2!.Value / rod.StiffnessNmm2(s.StationMm), (3 * s.SdShare) + 0.01);
        Assert.Contains(description.Stations, s => !s.IsTold);
    }

    [Fact]
    public void AFastBlankTurnsMoreInItsTipThanASlowOne()
    {
        // Common practice, no source: fast means that the bend lies in the top part.
        StiffnessEstimate fast = SyntheticStudy.Draw(2, Plain).Estimate;
        StiffnessEstimate slow = SyntheticStudy.Draw(3, Plain).Estimate;
        BlankComparison comparison = BlankDescriber.Compare(slow, fast).Value!;
        Assert.All(comparison.Loads, l => Assert.True(l.Second.Tip > l.First.Tip + 0.1));
        Assert.True(comparison.IsAbsolute);
        StationRatio middle = comparison.Stations[10];
        double expected = new SyntheticRod(Taper.Fast, false, 0, 0).StiffnessNmm2(1000) / new SyntheticRod(Taper.Slow, false, 0, 0).StiffnessNmm2(1000);
        Assert.Equal(expected, middle.StiffnessRatio, 3 * middle.SdShare * expected);
    }

    // The standard bend of the true blank: weightless, straight, pulled at 135 degrees to the butt.
    private static (double Load, TurningShares Turning) Truth(SyntheticRod rod, double turnDeg)
    {
        BlankModel blank = new(SyntheticRod.LengthMm, rod.StiffnessNmm2);
        Bend Solve(double load) => BendSolver.Solve(blank, new Clamp(new(0, 0), 0), new FixedDirection(load, -135)).Value!;
        (double low, double high) = (0, 20);
        for (int i = 0; i < 40; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = Solve(middle).TipTurnDeg < turnDeg ? (middle, high) : (low, middle);
        }

        return (low, TurningShares.Of(Solve(low)));
    }
}

using DeflectScan.Geometry;

namespace DeflectScan.Tests.Geometry;

/// <summary>25.4 mm an inch, by definition; figures worked out by hand.</summary>
public class UnitsInSentencesTests
{
    [Theory]
    [InlineData("with guide 5 shifted the largest bow falls from 19.4 to 8.8 mm, without an extra guide.", "with guide 5 shifted the largest bow falls from 0.76 to 0.35 in, without an extra guide.")]
    [InlineData("Tip turn 83.2 degrees; 402 mm from the tip.", "Tip turn 83.2 degrees; 15.83 in from the tip.")]
    [InlineData("It moved +12.7 mm (±0.3 mm).", "It moved +0.50 in (±0.02 in).")]
    [InlineData("27.1 ± 0.6 mm", "1.07 ± 0.03 in")]
    [InlineData("at 110, 160, 210 and 254 mm from the tip", "at 4.33, 6.30, 8.27 and 10.00 in from the tip")]
    [InlineData("0.523 mm a pixel stays", "0.523 mm a pixel stays")]
    [InlineData("typed as 402mm or --taped 1-tip=612mm±1", "typed as 402mm or --taped 1-tip=612mm±1")]
    [InlineData("A 0.25 mm leader and a 0.09 mm line, a knot of 0.8 mm", "A 0.010 in leader and a 0.004 in line, a knot of 0.03 in")]
    [InlineData("with 3 guides and 2 cards", "with 3 guides and 2 cards")]
    public void LengthsAreTurnedAndNothingElse(string mm, string inches)
    {
        Assert.Equal(inches, UnitsInSentences.Of(mm, LengthUnit.Inches));
        Assert.Equal(mm, UnitsInSentences.Of(mm, LengthUnit.Millimetres));
    }

    [Theory]
    [InlineData(-0.04, LengthUnit.Millimetres, "0.0")]
    [InlineData(-0.1, LengthUnit.Inches, "0.00")]
    [InlineData(-0.06, LengthUnit.Millimetres, "-0.1")]
    public void ThereIsNoMinusZero(double mm, LengthUnit unit, string text) => Assert.Equal(text, UnitsInSentences.Bare(mm, unit));

    [Theory]
    [InlineData("21", LengthUnit.Inches, 533.4)]
    [InlineData("15 13/16", LengthUnit.Inches, 401.6375)]
    [InlineData("+1/2", LengthUnit.Inches, 12.7)]
    [InlineData("21mm", LengthUnit.Inches, 21)]
    [InlineData("21", LengthUnit.Millimetres, 21)]
    public void ABareNumberIsInTheUnitSaid(string text, LengthUnit bare, double expected)
    {
        Assert.True(LengthText.TryMm(text, bare, out double mm));
        Assert.Equal(expected, mm, 1e-9);
    }
}

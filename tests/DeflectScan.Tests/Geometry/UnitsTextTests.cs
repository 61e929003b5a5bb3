using System.Globalization;
using CsCheck;
using DeflectScan.Geometry;

namespace DeflectScan.Tests.Geometry;

public class UnitsTextTests
{
    [Theory]
    [InlineData(0, "0 in")]
    [InlineData(25.4, "1 in")]
    [InlineData(1.5875, "1/16 in")] // 25.4 / 16 exactly
    [InlineData(12.7, "1/2 in")]
    [InlineData(402.0, "15 13/16 in")] // 15.827 in = 15 + 13.2/16
    [InlineData(15.97 / 16 * 25.4, "1 in")] // the sixteenths carry into the next inch
    [InlineData((3 + (15.97 / 16)) * 25.4, "4 in")]
    [InlineData(0.5 / 16 * 25.4, "1/16 in")] // half a sixteenth goes up
    [InlineData(0.49 / 16 * 25.4, "0 in")]
    [InlineData(-0.49 / 16 * 25.4, "0 in")] // no "-0"
    [InlineData(-12.7, "-1/2 in")]
    [InlineData(1828.8, "72 in")] // six feet stay inches
    public void SixteenthsAreInLowestTermsAndCarry(double mm, string text) => Assert.Equal(text, UnitsText.Sixteenths(mm));

    [Theory]
    [InlineData(0, "0.0 mm", "0.00 in")]
    [InlineData(-0.01, "0.0 mm", "0.00 in")]
    [InlineData(402, "402.0 mm", "15.83 in")]
    [InlineData(25.35, "25.4 mm", "1.00 in")]
    public void DecimalsAreRoundedWithoutNegativeZero(double mm, string millimetres, string inches)
    {
        Assert.Equal(millimetres, UnitsText.Millimetres(mm));
        Assert.Equal(inches, UnitsText.DecimalInches(mm));
    }

    [Fact]
    public void TheUnitAskedForComesFirst()
    {
        Assert.Equal("402.0 mm (15.83 in, 15 13/16 in)", UnitsText.Both(402, LengthUnit.Millimetres));
        Assert.Equal("15.83 in, 15 13/16 in (402.0 mm)", UnitsText.Both(402, LengthUnit.Inches));
    }

    [Fact]
    public void SixteenthsReadBackAreWithinHalfASixteenth() => Gen.Double[-5000, 5000].Sample(mm =>
        Math.Abs(ReadBack(UnitsText.Sixteenths(mm)) - mm) <= (25.4 / 32) + 1e-9);

    private static double ReadBack(string text)
    {
        double inches = 0;
        foreach (string part in text.Replace(" in", "", StringComparison.Ordinal).TrimStart('-').Split(' '))
        {
            string[] f = part.Split('/');
            double top = double.Parse(f[0], CultureInfo.InvariantCulture);
            inches += f.Length == 1 ? top : top / double.Parse(f[1], CultureInfo.InvariantCulture);
        }

        return (text[0] == '-' ? -inches : inches) * 25.4;
    }

    [Theory]
    [InlineData(0.21, 0.3)]
    [InlineData(0.30, 0.3)]
    [InlineData(0.0, 0.0)]
    public void AnUncertaintyIsNeverShownSmaller(double uncertainty, double shown) =>
        Assert.Equal(shown, UnitsText.RoundedUp(uncertainty, 0.1), 1e-12);
}

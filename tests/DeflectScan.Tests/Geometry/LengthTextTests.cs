using DeflectScan.Geometry;

namespace DeflectScan.Tests.Geometry;

/// <summary>An inch is 25.4 mm, a foot 12 inches, by definition (international yard and pound agreement of 1959).</summary>
public class LengthTextTests
{
    [Theory]
    [InlineData("402", 402)]
    [InlineData("402mm", 402)]
    [InlineData(" 40.2 cm ", 402)]
    [InlineData("1.98m", 1980)]
    [InlineData("+12mm", 12)]
    [InlineData("-0.5in", -12.7)]
    [InlineData("15 13/16in", 401.6375)]
    [InlineData("15-13/16 in", 401.6375)]
    [InlineData("13/16\"", 20.6375)]
    [InlineData("-3/4in", -19.05)]
    [InlineData("6ft 6in", 1981.2)]
    [InlineData("6' 6 1/2\"", 1993.9)]
    [InlineData("7ft", 2133.6)]
    public void LengthsReadAsABuilderWritesThem(string text, double mm)
    {
        Assert.True(LengthText.TryMm(text, out double read));
        Assert.Equal(mm, read, 1e-9);
    }

    [Theory]
    [InlineData("")]
    [InlineData("mm")]
    [InlineData("12 furlongs")]
    [InlineData("1,5mm")]
    [InlineData("13/0in")]
    [InlineData("15 13/16")]
    [InlineData("1e9mm")]
    [InlineData("NaN")]
    [InlineData("--5mm")]
    [InlineData("٣mm")]
    public void WhatIsNoLengthIsNot(string text) => Assert.False(LengthText.TryMm(text, out _));

    [Fact]
    public void WhatIsPrintedReadsBack()
    {
        for (double mm = 0; mm < 3000; mm += 13.7)
        {
            Assert.True(LengthText.TryMm(UnitsText.Sixteenths(mm), out double sixteenths));
            Assert.Equal(mm, sixteenths, UnitsText.MmPerInch / 32 + 1e-9);
            Assert.True(LengthText.TryMm(UnitsText.Millimetres(mm), out double millimetres));
            Assert.Equal(mm, millimetres, 0.0501);
        }
    }
}

using DeflectScan.Geometry;
using DeflectScan.Proving;

namespace DeflectScan.Tests.Proving;

/// <summary>Readings as a person writes them. 25.4 mm to the inch.</summary>
public class HandReadingTests
{
    [Theory]
    [InlineData(ReadingKind.Station, "5=612mm±1", 5, null, 612, 1)]
    [InlineData(ReadingKind.Station, "2-5=612", 2, 5, 612, 2)]
    [InlineData(ReadingKind.Station, "2-tip=61.2cm+-0.1", 2, null, 612, 1)]
    [InlineData(ReadingKind.Station, "3=15 13/16in±1/16", 3, null, 401.6375, 1.5875)]
    [InlineData(ReadingKind.Gap, "3-4=14.2mm±0.3", 3, 4, 14.2, 0.3)]
    [InlineData(ReadingKind.Gap, "7-tip=10", 7, null, 10, 0.5)]
    public void ReadingsAreRead(ReadingKind kind, string text, int from, int? to, double mm, double within)
    {
        HandReading r = HandReading.Parse(kind, text)!;
        Assert.Equal((kind, from, to), (r.Kind, r.From, r.To));
        Assert.Equal(mm, r.Mm, 6);
        Assert.Equal(within, r.UncertaintyMm, 6);
        Assert.Null(r.Problem);
    }

    [Theory]
    [InlineData(ReadingKind.Gap, "3=14.2")]
    [InlineData(ReadingKind.Station, "5")]
    [InlineData(ReadingKind.Station, "five=612")]
    [InlineData(ReadingKind.Station, "5=long")]
    [InlineData(ReadingKind.Station, "5=612±x")]
    public void WhatIsNoReadingIsNone(ReadingKind kind, string text) => Assert.Null(HandReading.Parse(kind, text));

    [Fact]
    public void BareNumbersAreInTheUnitAskedFor() => Assert.Equal(24 * 25.4, HandReading.Parse(ReadingKind.Station, "5=24", LengthUnit.Inches)!.Mm, 6);

    [Fact]
    public void AFileOfReadingsIsReadAndWritten()
    {
        IReadOnlyList<HandReading> read = ReadingsCsv.Parse("\uFEFFwhat,guides,reading,plus_minus\n# bench, May\nstation,5,612mm,1\nstation;2-5;21cm;\ngap,3-4,14.2,0.3mm\ngap,4-5,,\n\n").Value!;
        Assert.Equal([612, 210, 14.2], read.Select(r => r.Mm));
        Assert.Equal([1, 2, 0.3], read.Select(r => r.UncertaintyMm));
        Assert.Equal(read.Select(r => r with { WrittenUnitMm = 1 }), ReadingsCsv.Parse(ReadingsCsv.Write(read)).Value!);
        Assert.StartsWith("Line 2", ReadingsCsv.Parse("station,5,612\ngap,3,14\n").Findings[0].Message, StringComparison.Ordinal);
    }

    /// <summary>Of 612 mm: 8 other hundreds, 9 other tens, 9 other units, and 162 and 621 by swapping; by hand.</summary>
    [Fact]
    public void SlipsOfADigitAreThoseThatAHandMakes()
    {
        double[] digits = [.. SlipCauses.Digits(new HandReading(ReadingKind.Station, 5, null, 612, 1))];
        Assert.Equal(8 + 9 + 9 + 2, digits.Length);
        Assert.Contains(512, digits);
        Assert.Contains(682, digits);
        Assert.Contains(162, digits);
        Assert.Contains(621, digits);
        Assert.DoesNotContain(612, digits);
        Assert.DoesNotContain(12, digits);
        Assert.Contains(24.2, SlipCauses.Digits(new HandReading(ReadingKind.Gap, 3, 4, 14.2, 0.3)).Select(d => Math.Round(d, 6)));
    }
}

using DeflectScan.Geometry;
using DeflectScan.Proving;

namespace DeflectScan.Tests.Proving;

/// <summary>What a form of readings takes is one rule for every face.</summary>
public class ProofFormTests
{
    private static readonly TypedReading One = new(ReadingKind.Station, 5, null, "24 1/8", "1/16");

    [Fact]
    public void AFormIsReadInItsUnit()
    {
        HandReading read = Assert.Single(ProofForm.Read([One], LengthUnit.Inches).Value!);
        Assert.Equal(24.125 * 25.4, read.Mm, 9);
        Assert.Equal(25.4 / 16, read.UncertaintyMm, 9);
    }

    [Theory]
    [InlineData("long", "", "\"long\" is no length")]
    [InlineData("612", "much", "± \"much\" is no length")]
    [InlineData("1234567890123456789012345678901234567890123", "", "shorter")]
    public void WhatIsNoLengthIsSaid(string length, string within, string says) =>
        Assert.Contains(says, ProofForm.Read([One with { Length = length, Within = within }], LengthUnit.Millimetres).Findings[0].Message, StringComparison.Ordinal);

    [Fact]
    public void AFormHasItsBounds()
    {
        Assert.Contains("at least one", ProofForm.Read([], LengthUnit.Millimetres).Findings[0].Message, StringComparison.Ordinal);
        Assert.Equal(ProofForm.MostReadings, ProofForm.Read([.. Enumerable.Repeat(One, ProofForm.MostReadings)], LengthUnit.Inches).Value!.Count);
        Assert.True(ProofForm.Read([.. Enumerable.Repeat(One, ProofForm.MostReadings + 1)], LengthUnit.Inches).IsRefused);
        Assert.Null(ProofForm.PaperProblem(ProofForm.MostGuidesOnPaper + 1)); // the tip-top's ring is no guide
        Assert.Contains("30 guides", ProofForm.PaperProblem(ProofForm.MostGuidesOnPaper + 2), StringComparison.Ordinal);
    }
}

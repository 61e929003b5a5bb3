using DeflectScan.Layout;
using DeflectScan.Layout.Guides;
using DeflectScan.Layout.Start;

namespace DeflectScan.Tests.Layout;

public class GuideTableTests
{
    [Fact]
    public void ATableReadsWithWhatItLeavesOut()
    {
        GuideTable table = GuideTable.Parse("\uFEFF# my drawer\nring, height_mm, mass_g, bore_mm\r\n25, 26.9, 2.5, 20.3\n\n6, 8.5, , \n").Value!;
        Assert.Equal([new GuideModel(25, 26.9, 2.5, 20.3), new GuideModel(6, 8.5, null, GuidePractice.BoreMm(6))], table.Guides);
        Assert.Equal(25, table.Nearest(24.2)!.RingSize);
        Assert.Null(table.Nearest(14));
        Assert.Null(table.OfSize(8));
    }

    [Fact]
    public void ALineLiesAtTheFarRimInsideTheBendAndAtTheNearOneOutside()
    {
        GuideModel guide = new(10, 14, 1, 7);
        Assert.Equal(3 + 14 + 3.5, guide.ContactDistanceMm(3, GuideSide.Inside), 1e-12);
        Assert.Equal(3 + 14 - 3.5, guide.ContactDistanceMm(3, GuideSide.Outside), 1e-12);
    }

    [Theory]
    [InlineData("", "no guide")]
    [InlineData("size,height\n6,8", "name its columns")]
    [InlineData("ring,height_mm\n6,abc", "Line 2")]
    [InlineData("ring,height_mm\n6", "Line 2")]
    [InlineData("ring,height_mm,mass_g\n6,8,-1", "mass_g")]
    [InlineData("ring,height_mm,mass_g,bore_mm\n6,2,1,5", "hole would reach the blank")]
    public void WhatIsNoTableIsSaidInOneSentence(string text, string says) =>
        Assert.Contains(says, GuideTable.Parse(text).Findings[0].Message, StringComparison.Ordinal);
}

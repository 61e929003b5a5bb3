using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;

namespace DeflectScan.Tests.Reporting;

public class PaletteTests
{
    [Theory]
    [InlineData(nameof(ColourVision.Usual))]
    [InlineData(nameof(ColourVision.Protanopia))]
    [InlineData(nameof(ColourVision.Deuteranopia))]
    [InlineData(nameof(ColourVision.Tritanopia))]
    public void EveryTwoRolesStayFarApart(string vision)
    {
        double[] through = vision switch
        {
            nameof(ColourVision.Protanopia) => ColourVision.Protanopia,
            nameof(ColourVision.Deuteranopia) => ColourVision.Deuteranopia,
            nameof(ColourVision.Tritanopia) => ColourVision.Tritanopia,
            _ => ColourVision.Usual,
        };
        for (int i = 0; i < Palette.Roles.Count; i++)
        {
            for (int j = 0; j < i; j++)
            {
                double apart = ColourVision.Difference(
                    ColourVision.Lab(Palette.Roles[i].Colour, through), ColourVision.Lab(Palette.Roles[j].Colour, through));
                // About 2 can just be seen side by side; 15 is plain at a glance.
                Assert.True(apart > 15, $"{Palette.Roles[i].Name} and {Palette.Roles[j].Name} are {apart:0.0} apart under {vision}");
            }
        }
    }

    /// <summary>Pairs 1, 7 and 34 of the test data that Sharma, Wu and Dalal published with their paper (from memory; checked with scikit-image).</summary>
    [Theory]
    [InlineData(50, 2.6772, -79.7751, 50, 0, -82.7485, 2.0425)]
    [InlineData(50, 0, 0, 50, -1, 2, 2.3669)]
    [InlineData(2.0776, 0.0795, -1.1350, 0.9033, -0.0636, -0.5514, 0.9082)]
    public void TheDifferenceIsThePublishedOne(double l1, double a1, double b1, double l2, double a2, double b2, double published) =>
        Assert.Equal(published, ColourVision.Difference([l1, a1, b1], [l2, a2, b2]), 4);

    /// <summary>A contrast of 4.5 to 1 or more for words, as WCAG 2.1 asks (success criterion 1.4.3).</summary>
    [Fact]
    public void WordsStandOutFromTheirGround()
    {
        foreach (SkiaSharp.SKColor ground in (SkiaSharp.SKColor[])[Palette.Panel, Palette.Largest, Palette.Ghost, Palette.Paper])
        {
            (double a, double b) = (Palette.Luminance(ground), Palette.Luminance(Palette.Against(ground)));
            Assert.True((Math.Max(a, b) + 0.05) / (Math.Min(a, b) + 0.05) > 4.5, $"{ground}");
        }
    }
}

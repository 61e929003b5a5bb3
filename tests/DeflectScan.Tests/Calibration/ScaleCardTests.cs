using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Calibration;

public class ScaleCardTests
{
    [Fact]
    public void ThePatternHasTheMeasuresOfItsDescription()
    {
        Assert.Equal(180, ScaleCard.PatternWidthMm);
        Assert.Equal(252, ScaleCard.PatternHeightMm);
        Assert.Equal(24, ScaleCard.InnerCorners);
        Assert.Equal(17, ScaleCard.MarkerSquares.Count);
        Assert.True(ScaleCard.IsBlack(0, 0));
    }

    [Theory]
    [InlineData('A', 0, 0)]
    [InlineData('A', 16, 16)]
    [InlineData('C', 3, 37)]
    [InlineData('E', 16, 84)]
    public void ALettersMarkersAreSeventeenInARow(char letter, int place, int id)
    {
        Assert.Equal(id, ScaleCard.MarkerId(letter, place));
        Assert.Equal((letter, place), ScaleCard.Locate(id));
    }

    [Fact]
    public void IdsBeyondTheLettersBelongToNoCard() => Assert.Null(ScaleCard.Locate(85));

    /// <summary>The rendered scenes' truth files lay the cards out on their own: distances between corners must agree.</summary>
    [Fact]
    public void InnerCornersLieAsInTheTruthFiles()
    {
        foreach (TruthCard card in Repository.Truth("clutter-bench").Cards)
        {
            Vec2 At(int i) => new(card.InnerCornersMm[i][0], card.InnerCornersMm[i][1]);
            for (int i = 1; i < ScaleCard.InnerCorners; i++)
            {
                double mm = ScaleCard.InnerCornerMm(i).DistanceTo(ScaleCard.InnerCornerMm(0));
                Assert.Equal(At(i).DistanceTo(At(0)), mm, 0.001);
            }
        }
    }
}

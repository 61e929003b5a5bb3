using DeflectScan.Geometry;

namespace DeflectScan.Tests.Geometry;

public class ForceTextTests
{
    // 1 lbf = 4.4482216152605 N exactly (NIST Special Publication 811, appendix B.8, from memory).
    [Theory]
    [InlineData("18.5N", 18.5)]
    [InlineData("18.5 n", 18.5)]
    [InlineData("1lb", 4.4482216152605)]
    [InlineData("4.2 lb", 4.2 * 4.4482216152605)]
    [InlineData("1.9kg", 1.9 * 9.80665)]
    [InlineData("350g", 0.35 * 9.80665)]
    [InlineData("16oz", 4.4482216152605)]
    public void AForceIsRead(string text, double newton) => Assert.Equal(newton, ForceText.Parse(text)!.Value, 1e-12);

    [Theory]
    [InlineData("")]
    [InlineData("18.5")]
    [InlineData("N")]
    [InlineData("-3N")]
    [InlineData("1,9kg")]
    [InlineData("4 stone")]
    public void AnythingElseIsNoForce(string text) => Assert.Null(ForceText.Parse(text));

    [Fact]
    public void AForceIsShownInEveryUnit() => Assert.Equal("18.5 N (1.89 kg, 4.16 lb)", ForceText.All(18.5));
}

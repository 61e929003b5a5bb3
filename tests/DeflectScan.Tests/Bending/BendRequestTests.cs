using DeflectScan.Bending;

namespace DeflectScan.Tests.Bending;

/// <summary>What may be asked of a bend is one rule for the command line and the page.</summary>
public class BendRequestTests
{
    [Theory]
    [InlineData(0.02, true)]
    [InlineData(20, true)]
    [InlineData(0.019, false)]
    [InlineData(20.1, false)]
    [InlineData(double.NaN, false)]
    [InlineData(double.PositiveInfinity, false)]
    public void ALoadHasItsRange(double factor, bool fits) => Assert.Equal(fits, AskedBend.Load(factor).Problem is null);

    [Theory]
    [InlineData(1, true)]
    [InlineData(170, true)]
    [InlineData(171, false)]
    public void ATurnHasItsRange(double deg, bool fits) => Assert.Equal(fits, AskedBend.Turn(deg).Problem is null);

    [Fact]
    public void SoManyAreWorkedOutAtOnce()
    {
        AskedBend one = AskedBend.Load(1);
        Assert.Null(new BendRequest([.. Enumerable.Repeat(one, BendRequest.MostBends)]).FirstProblem());
        Assert.Contains("At most 12", new BendRequest([.. Enumerable.Repeat(one, BendRequest.MostBends + 1)]).FirstProblem(), StringComparison.Ordinal);
        Assert.Contains("from 0.02 to 20", new BendRequest([one, AskedBend.Load(50)]).FirstProblem(), StringComparison.Ordinal);
    }
}

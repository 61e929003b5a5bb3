using DeflectScan.Geometry.Propagation;
using DeflectScan.Scenes.Propagation;

namespace DeflectScan.Tests.Geometry.Propagation;

/// <summary>A further observation in the adjustment: against the closed form for normal variables.</summary>
public class PropagatedTests
{
    /// <summary>Two lengths of one uncertain scale; taping the first fixes the second. Weighted mean of two readings of one quantity (closed form).</summary>
    [Fact]
    public void AnObservationIsWeighedByItsUncertainty()
    {
        Propagated<string> p = new([1000, 500]);
        p.Displace("scale", [1004, 502]);
        Propagated<string> q = p.Given(new Dictionary<int, double> { [0] = 1 }, 1006, 3);

        // Prior 1000 ± 4, observed 1006 ± 3: weights 1/16 and 1/9.
        double weighted = ((1000.0 / 16) + (1006.0 / 9)) / ((1.0 / 16) + (1.0 / 9));
        double sd = Math.Sqrt(1 / ((1.0 / 16) + (1.0 / 9)));
        Assert.Equal(weighted, q.Values[0], 9);
        Assert.Equal(weighted / 2, q.Values[1], 9);
        Assert.Equal(sd, q.Sd(0), 9);
        Assert.Equal(sd / 2, q.Sd(1), 9);
        Assert.Equal((6.0, 5.0), p.Compare(new Dictionary<int, double> { [0] = 1 }, 1006, 3));
    }

    /// <summary>Against the conditional normal distribution's matrices, with several causes and a variance of one figure alone.</summary>
    [Fact]
    public void ManyCausesGiveTheConditionalDistribution()
    {
        double[][] effects = [[3, 1, -2], [0.5, 2, 1], [-1, 0, 4]];
        double[] values = [10, 20, 30];
        Propagated<int> p = new(values);
        for (int c = 0; c < 3; c++)
            p.Displace(c, [.. values.Select((v, f) => v + effects[c][f])]);
        p.Add(7, 1, 2.5);
        Dictionary<int, double> h = new() { [0] = 1, [1] = -1 };
        Propagated<int> q = p.Given(h, -8, 0.7);
        double s = p.Covariance(0, 0) + p.Covariance(1, 1) - (2 * p.Covariance(0, 1)) + 0.49;
        for (int a = 0; a < 3; a++)
        {
            double gainA = (Shared(a, 0) - Shared(a, 1)) / s;
            Assert.Equal(values[a] + (gainA * 2), q.Values[a], 9);
            for (int b = 0; b < 3; b++)
                Assert.Equal(p.Covariance(a, b) - (gainA * (Shared(b, 0) - Shared(b, 1))), q.Covariance(a, b), 9);
        }

        double Shared(int a, int b) => effects.Sum(e => e[a] * e[b]);
    }

    [Fact]
    public void ACovarianceThatIsNoneIsABrokenContract() =>
        Assert.Throws<ArgumentException>(() => LinearPropagation.Root(new double[,] { { 1, 2 }, { 2, 1 } }));
}

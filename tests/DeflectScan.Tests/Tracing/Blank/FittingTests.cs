using DeflectScan.Tracing.Blank;
using MathNet.Numerics;

namespace DeflectScan.Tests.Tracing.Blank;

public class FittingTests
{
    [Fact]
    public void ACubicsValuesAreFittedExactly()
    {
        double[] x = [.. Enumerable.Range(0, 60).Select(i => i * 0.5)];
        double[] y = [.. x.Select(v => (0.01 * v * v * v) - (0.3 * v * v) + v + 2)];
        double[] w = [.. x.Select(_ => 1.0)];
        PenalisedSpline fit = PenalisedSpline.Fit(x, y, w, 0, 29.5, 6, 3, 0);
        for (double v = 0; v < 29.5; v += 0.7)
            Assert.Equal((0.01 * v * v * v) - (0.3 * v * v) + v + 2, fit.At(v), 1e-5);
    }

    // A heavy penalty of the second order leaves the straight line of least squares, whose variance at the mean of x is sigma^2 / n
    // and away from it sigma^2 (1 / n + (x - mean)^2 / Sxx): any textbook on regression, from memory.
    [Fact]
    public void TheVarianceOfAStiffSplineIsThatOfAStraightLine()
    {
        double[] x = [.. Enumerable.Range(0, 101).Select(i => (double)i)];
        double[] w = [.. x.Select(_ => 1.0)];
        PenalisedSpline fit = PenalisedSpline.Fit(x, x, w, 0, 100, 10, 2, 1e7);
        double sxx = x.Sum(v => (v - 50) * (v - 50));
        Assert.Equal(1.0 / 101, fit.Variance(50), 1e-4);
        Assert.Equal((1.0 / 101) + (2500 / sxx), fit.Variance(100), 1e-3);
    }

    [Fact]
    public void AThinBlurredBarsTrueWidthComesBack()
    {
        // A Gaussian's full width at half maximum is 2 sqrt(2 ln 2) sigma: a line without width.
        Assert.Equal(0, BlurredBar.Width(2 * Math.Sqrt(2 * Math.Log(2)) * 0.7, 0.7), 0.05);
        Assert.Equal(9, BlurredBar.Width(9, 0.7), 12);
        // By numerical convolution: a bar of width 1.5 under sigma 0.7.
        double half = HalfWidthByConvolution(1.5, 0.7);
        Assert.Equal(1.5, BlurredBar.Width(half, 0.7), 0.02);
    }

    [Fact]
    public void TheNormalDistributionIsThatOfTheErrorFunction()
    {
        for (double z = -4; z <= 4; z += 0.05)
            Assert.Equal(0.5 * (1 + SpecialFunctions.Erf(z / Math.Sqrt(2))), ShadedEdge.Phi(z), 1e-7);
    }

    private static double HalfWidthByConvolution(double width, double sigma)
    {
        double At(double x)
        {
            double sum = 0;
            for (double t = -width / 2; t < width / 2; t += 0.001)
                sum += Math.Exp(-(x - t) * (x - t) / (2 * sigma * sigma));
            return sum;
        }

        double peak = At(0);
        double edge = 0;
        while (At(edge) > peak / 2)
            edge += 0.002;
        return 2 * edge;
    }
}

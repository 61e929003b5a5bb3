using DeflectScan.Geometry;

namespace DeflectScan.Tests.Geometry;

/// <summary>
/// Reference values: scipy's make_smoothing_spline and an independent dense Reinsch solve, which agree to 3.5e-15;
/// x = i/20, y = sin(2πx) + 0.05 cos(37 i).
/// </summary>
public class SmoothingSplineTests
{
    private static readonly double[] X = [.. Enumerable.Range(0, 21).Select(i => i / 20.0)];
    private static readonly double[] Y = [.. Enumerable.Range(0, 21).Select(i => Math.Sin(2 * Math.PI * i / 20) + (0.05 * Math.Cos(37 * i)))];
    private static readonly double[] At = [0, 0.125, 0.26, 0.5, 0.777, 1];

    [Theory]
    [InlineData(1e-5, 0.053666315, 0.697782678, 0.954046372, 0.037273318, -0.99127353, 0.006825755)]
    [InlineData(1e-4, 0.073076256, 0.690406876, 0.953099534, 0.031886865, -0.983162918, -0.002148775)]
    [InlineData(1e-3, 0.172574533, 0.673771433, 0.898613291, 0.013005135, -0.912767947, -0.097954666)]
    [InlineData(0, 0.05, 0.69820793, 0.95399965, 0.03798538, -0.99216386, 0.00771555)]
    public void ValuesAgree(double lambda, params double[] expected)
    {
        SmoothingSpline spline = SmoothingSpline.Fit(X, Y, lambda);
        for (int i = 0; i < At.Length; i++)
            Assert.Equal(expected[i], spline.Value(At[i]), lambda > 0 ? 1e-9 : 1e-8);
    }

    [Theory]
    [InlineData(1e-5, -26.46847, -30.88795, -7.588398, 39.94732)]
    [InlineData(1e-4, -24.35989, -32.15945, -6.486070, 39.45608)]
    [InlineData(1e-3, -18.09542, -31.76199, -2.786105, 34.25478)]
    public void SecondDerivativesAgree(double lambda, params double[] expected)
    {
        SmoothingSpline spline = SmoothingSpline.Fit(X, Y, lambda);
        for (int i = 0; i < expected.Length; i++)
            Assert.Equal(expected[i], spline.Second(At[i + 1]), 2e-5);
        Assert.Equal(0, spline.Second(0), 1e-9);
        Assert.Equal(0, spline.Second(1), 1e-9);
    }

    [Theory]
    [InlineData(1e-5, 0.000033040, 14.1267862, 0.000014687)]
    [InlineData(1e-4, 0.001830773, 8.7270092, 0.000255242)]
    [InlineData(1e-3, 0.095289876, 5.3833262, 0.008205196)]
    public void ResidualTraceAndScoreAgree(double lambda, double residual, double trace, double score)
    {
        SmoothingSpline spline = SmoothingSpline.Fit(X, Y, lambda);
        Assert.Equal(residual, spline.ResidualSumOfSquares, 1e-9);
        Assert.Equal(trace, spline.EffectiveParameters, 1e-7);
        Assert.Equal(score, spline.CrossValidation, 1e-9);
    }

    [Fact]
    public void SlopesAreTheValuesDerivative()
    {
        SmoothingSpline spline = SmoothingSpline.Fit(X, Y, 1e-4);
        for (double x = -0.2; x < 1.2; x += 0.0131)
            Assert.Equal((spline.Value(x + 1e-5) - spline.Value(x - 1e-5)) / 2e-5, spline.Slope(x), 1e-6);
    }

    [Fact]
    public void WeightsScaleAgainstLambdaAndPinPoints()
    {
        // Halving every weight and halving lambda changes nothing but the residual's scale.
        double[] half = [.. X.Select(_ => 0.5)];
        SmoothingSpline one = SmoothingSpline.Fit(X, Y, 1e-4);
        SmoothingSpline scaled = SmoothingSpline.Fit(X, Y, 0.5e-4, half);
        foreach (double x in At)
            Assert.Equal(one.Value(x), scaled.Value(x), 1e-12);

        // A point of enormous weight is kept.
        double[] pinned = [.. X.Select((_, i) => i == 7 ? 1e9 : 1)];
        Assert.Equal(Y[7], SmoothingSpline.Fit(X, Y, 1e-2, pinned).Value(X[7]), 1e-6);
    }
}

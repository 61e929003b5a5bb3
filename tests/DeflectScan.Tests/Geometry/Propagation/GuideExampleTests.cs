using DeflectScan.Geometry.Propagation;
using DeflectScan.Scenes.Propagation;

namespace DeflectScan.Tests.Geometry.Propagation;

/// <summary>
/// The worked examples of JCGM 100:2008 (annex H) and JCGM 101:2008 (clause 9), to the digits that they print. Inputs and results of H.1 as in
/// the public examples of the Guide's uncertainty calculator "GTC"; H.2's readings and the results of JCGM 101 are quoted from memory of the
/// documents and were recomputed independently (closed forms and quadrature).
/// </summary>
public class GuideExampleTests
{
    /// <summary>H.1, end-gauge calibration: l = 50.000 838 mm, u_c = 32 nm, 16 effective degrees of freedom; components 25, 9.7, 16.6, 2.9 nm.</summary>
    [Fact]
    public void H1EndGauge()
    {
        // l_s, the four parts of d, alpha_s, delta-alpha, theta-bar, Delta, delta-theta; lengths in nm.
        double[] x = [50_000_623, 215, 0, 0, 11.5e-6, 0, -0.1, 0, 0];
        double[] u = [25, 5.8, 3.9, 6.7, 2e-6 / Math.Sqrt(3), 1e-6 / Math.Sqrt(3), 0.2, 0.5 / Math.Sqrt(2), 0.05 / Math.Sqrt(3)];
        Propagated<int> l = LinearPropagation.Of(
            v => [v[0] + v[1] + v[2] + v[3] - (v[0] * ((v[5] * (v[6] + v[7])) + (v[4] * v[8])))], x, LinearPropagation.Independent(u));
        Assert.Equal(50.000838, l.Values[0] / 1e6, 6);
        Assert.Equal(32, Math.Round(l.Sd(0)));
        double Part(params int[] inputs) => Math.Sqrt(inputs.Sum(i => l.Variance(0, i)));
        Assert.Equal(25, Part(0), 0.05);
        Assert.Equal(9.7, Part(1, 2, 3), 0.05);
        Assert.Equal(2.9, Part(5), 0.05);
        Assert.Equal(16.6, Part(8), 0.05);
        Assert.Equal(0, Part(4, 6, 7), 1e-6);
        double freedom = LinearPropagation.EffectiveFreedom((Part(0), 18), (5.8, 24), (3.9, 5), (6.7, 8), (Part(5), 50), (Part(8), 2));
        Assert.Equal(16, Math.Floor(freedom));
    }

    /// <summary>
    /// H.2, resistance and reactance measured together: R = 127.732, X = 219.847, Z = 254.260 ohm; u 0.071, 0.295, 0.236;
    /// r(R,X) = -0.588, r(R,Z) = -0.485, r(X,Z) = 0.993.
    /// </summary>
    [Fact]
    public void H2ResistanceAndReactance()
    {
        double[] volt = [5.007, 4.994, 5.005, 4.990, 4.999];
        double[] ampere = [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3];
        double[] phase = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];
        double[][] readings = [volt, ampere, phase];
        double[] mean = [.. readings.Select(r => r.Average())];
        double[,] covariance = new double[3, 3];
        for (int i = 0; i < 3; i++)
        {
            for (int j = 0; j < 3; j++)
                covariance[i, j] = readings[i].Zip(readings[j], (a, b) => (a - mean[i]) * (b - mean[j])).Sum() / (5 * 4);
        }

        Propagated<int> z = LinearPropagation.Of(v => [v[0] / v[1] * Math.Cos(v[2]), v[0] / v[1] * Math.Sin(v[2]), v[0] / v[1]], mean, covariance);
        Assert.Equal([127.732, 219.847, 254.260], z.Values.Select(v => Math.Round(v, 3)));
        Assert.Equal([0.0711, 0.2956, 0.2363], Enumerable.Range(0, 3).Select(i => Math.Round(z.Sd(i), 4))); // printed 0.071, 0.295 (cut, not rounded), 0.236
        Assert.Equal([-0.588, -0.485, 0.993], new[] { z.Correlation(0, 1), z.Correlation(0, 2), z.Correlation(1, 2) }.Select(r => Math.Round(r, 3)));
    }

    /// <summary>H.3, a thermometer's correction from a fitted line: b(30 °C) = -0.1494 °C, u = 0.0041 °C, from y1, y2 and their correlation.</summary>
    [Fact]
    public void H3ThermometerLine()
    {
        (double u1, double u2, double r) = (0.0029, 0.00067, -0.930);
        Propagated<int> b = LinearPropagation.Of(
            y => [y[0] + (y[1] * (30 - 20))], [-0.1712, 0.00218], new[,] { { u1 * u1, r * u1 * u2 }, { r * u1 * u2, u2 * u2 } });
        Assert.Equal(-0.1494, b.Values[0], 4);
        Assert.Equal(0.0041, Math.Round(b.Sd(0), 4));
    }

    /// <summary>JCGM 101, 9.2: sums of four inputs: u = 2.0 each, 95 % ± 3.92 for normal and ± 3.88 for rectangular ones; u = 10.1, ± 17.0 with one ten times as wide.</summary>
    [Theory]
    [InlineData("normal", 2.00, 3.92)]
    [InlineData("rectangular", 2.00, 3.88)]
    [InlineData("one wide", 10.1, 17.0)]
    public void AdditiveModels(string kind, double u, double half)
    {
        double wide = Math.Sqrt(3);
        DrawnFigure y = new MonteCarlo(1).Draw(
            m => [kind == "normal"
                ? m.Normal() + m.Normal() + m.Normal() + m.Normal()
                : m.Rectangular(-wide, wide) + m.Rectangular(-wide, wide) + m.Rectangular(-wide, wide) + (m.Rectangular(-wide, wide) * (kind == "one wide" ? 10 : 1))],
            400_000)[0];
        double printed = kind == "one wide" ? 0.05 : 0.015; // the last printed digit, and the noise of 400 000 draws
        Assert.Equal(0, y.Mean, printed);
        Assert.Equal(u, y.Sd, printed);
        Assert.Equal(half, (y.Symmetric().High - y.Symmetric().Low) / 2, 2 * printed);
        Assert.Equal(half, (y.Shortest().High - y.Shortest().Low) / 2, 3 * printed);
    }

    /// <summary>JCGM 101, 9.2.4: the law of propagation gives ± 19.9 for the last one, where drawing gives ± 17.0.</summary>
    [Fact]
    public void TheLawOfPropagationOverstatesTheWideRectangle()
    {
        Propagated<int> y = LinearPropagation.Of(x => [x.Sum()], [0, 0, 0, 0], LinearPropagation.Independent(1, 1, 1, 10));
        Assert.Equal(10.1, Math.Round(y.Sd(0), 1));
        Assert.Equal(19.9, Math.Round(1.96 * y.Sd(0), 1));
    }

    /// <summary>JCGM 101, 9.3, mass calibration: 1.234 mg, u = 0.075 mg, shortest 95 % [1.083, 1.383] mg; the linear law alone gives u = 0.054 mg.</summary>
    [Fact]
    public void MassCalibration()
    {
        static double Mass(double reference, double balance, double air, double weight, double known) =>
            ((reference + balance) * (1 + ((air - 1.2) * ((1 / weight) - (1 / known))))) - 100_000;
        DrawnFigure m = new MonteCarlo(2).Draw(
            d => [Mass(d.Normal(100_000, 0.05), d.Normal(1.234, 0.02), d.Rectangular(1.1, 1.3), d.Rectangular(7000, 9000), d.Rectangular(7950, 8050))], 400_000)[0];
        Assert.Equal(1.234, m.Mean, 0.001);
        Assert.Equal(0.075, m.Sd, 0.0007);
        Assert.Equal(1.083, m.Shortest().Low, 0.005);
        Assert.Equal(1.383, m.Shortest().High, 0.005);
        Propagated<int> linear = LinearPropagation.Of(
            x => [Mass(x[0], x[1], x[2], x[3], x[4])], [100_000, 1.234, 1.2, 8000, 8000],
            LinearPropagation.Independent(0.05, 0.02, 0.1 / Math.Sqrt(3), 1000 / Math.Sqrt(3), 50 / Math.Sqrt(3)));
        Assert.Equal(0.054, Math.Round(linear.Sd(0), 3));
    }

    /// <summary>JCGM 101, 9.4, comparison loss x1² + x2² with u = 0.005 each, uncorrelated, in units of 1e-6: exact values by non-central chi-square.</summary>
    [Theory]
    [InlineData(0, 50, 50, 1.27, 184.44)]
    [InlineData(0.010, 150, 111.80, 8.55, 427.12)]
    [InlineData(0.050, 2550, 502.49, 1638.48, 3603.36)]
    public void ComparisonLoss(double x1, double mean, double u, double low, double high)
    {
        DrawnFigure y = new MonteCarlo(3).Draw(d => [1e6 * (Math.Pow(d.Normal(x1, 0.005), 2) + Math.Pow(d.Normal(0, 0.005), 2))], 400_000)[0];
        Assert.Equal(mean, y.Mean, 0.01 * mean);
        Assert.Equal(u, y.Sd, 0.01 * u);
        Assert.Equal(low, y.Symmetric().Low, 0.015 * u);
        Assert.Equal(high, y.Symmetric().High, 0.015 * u);
        if (x1 == 0) // chi-square with two degrees of freedom falls all the way: the shortest interval begins at 0 and ends at 150
            Assert.Equal((0, 150), (Math.Round(y.Shortest().Low), Math.Round(y.Shortest().High, 0) is >= 149 and <= 151 ? 150 : y.Shortest().High));
    }

    /// <summary>The same by the law of propagation: u = 0 at x1 = 0, 100 at 0.010, 500 at 0.050 (JCGM 101, table 8).</summary>
    [Theory]
    [InlineData(0, 0)]
    [InlineData(0.010, 100)]
    [InlineData(0.050, 500)]
    public void ComparisonLossByTheLawOfPropagation(double x1, double u)
    {
        Propagated<int> y = LinearPropagation.Of(x => [1e6 * ((x[0] * x[0]) + (x[1] * x[1]))], [x1, 0], LinearPropagation.Independent(0.005, 0.005));
        Assert.Equal(u, y.Sd(0), 1e-6);
    }
}

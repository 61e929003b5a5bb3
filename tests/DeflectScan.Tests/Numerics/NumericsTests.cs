using DeflectScan.Imaging;
using DeflectScan.Numerics;
using MathNet.Numerics.Distributions;

namespace DeflectScan.Tests.Numerics;

public class NumericsTests
{
    [Theory]
    [InlineData(new double[] { 3, 1, 2 }, 2)]
    [InlineData(new double[] { 4, 1, 3, 2 }, 3)]
    [InlineData(new double[] { 7 }, 7)]
    public void TheMiddleIsAValueThatWasSeen(double[] values, double middle)
    {
        double[] kept = [.. values];
        Assert.Equal(middle, OrderStatistics.Middle(values));
        Assert.Equal(kept, values);
        Assert.Equal(middle, OrderStatistics.MiddleInPlace(values));
    }

    /// <summary>Against .NET's own sort, which puts what is no number first; of an even number the median is the mean of the two in the middle.</summary>
    [Fact]
    public void WhatIsSelectedIsWhatSortingWouldPutThere()
    {
        Random chance = new(3);
        for (int round = 0; round < 2000; round++)
        {
            double[] values = [.. Enumerable.Range(0, chance.Next(1, 40)).Select(_ => chance.Next(12) is 0 ? double.NaN : chance.Next(9) / 4.0)];
            double[] sorted = [.. values.Order()];
            int half = values.Length / 2;
            Assert.Equal(sorted[half], OrderStatistics.Middle(values));
            Assert.Equal(values.Length % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2, OrderStatistics.MedianInPlace(values));
        }
    }

    [Fact]
    public void OfNothingTheCallerSaysWhatIsGiven()
    {
        Assert.Throws<ArgumentException>(() => OrderStatistics.Middle([]));
        Assert.Throws<ArgumentException>(() => OrderStatistics.MiddleInPlace([]));
        Assert.Equal(0, OrderStatistics.Middle([], none: 0));
    }

    /// <summary>The formula's own bound, 7.5e-8 (Abramowitz and Stegun 26.2.17, from memory), against MathNet's law; density and integral follow.</summary>
    [Fact]
    public void TheNormalLawIsMathNets()
    {
        for (double z = -6; z <= 6; z += 0.25)
        {
            Assert.Equal(Normal.CDF(0, 1, z), NormalLaw.Below(z), 7.5e-8);
            Assert.Equal(Normal.PDF(0, 1, z), NormalLaw.Density(z), 1e-15);
            Assert.Equal(NormalLaw.Below(z), (NormalLaw.Ramp(z + 1e-3) - NormalLaw.Ramp(z - 1e-3)) / 2e-3, 1e-3);
        }

        Assert.Equal(NormalLaw.SdPerMedianSize, 1 / Normal.InvCDF(0, 1, 0.75), 1e-4);
    }

    /// <summary>JCGM 100:2008, table G.2, column 95 %, as the program had typed it before; two decimals.</summary>
    [Fact]
    public void StudentsFactorIsTheGuides()
    {
        double[] table = [12.71, 4.30, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23];
        Assert.All(table.Select((t, i) => (t, i + 1)), row => Assert.Equal(row.t, StudentFactor.Of(row.Item2), 0.0051));
        Assert.Equal(1, StudentFactor.Widening(1e6), 1e-12);
    }

    [Fact]
    public void CubicConvolutionIsExactForParabolas()
    {
        Span<double> w = stackalloc double[4];
        for (double t = 0; t <= 1; t += 0.125)
        {
            CubicKernel.Weights(t, w);
            double sum = 0;
            for (int i = 0; i < 4; i++)
                sum += w[i] * Parabola(i - 1);
            Assert.Equal(Parabola(t), sum, 1e-12);
        }

        static double Parabola(double x) => 2 - (3 * x) + (0.7 * x * x);
    }
}

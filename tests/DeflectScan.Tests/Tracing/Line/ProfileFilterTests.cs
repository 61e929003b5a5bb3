using DeflectScan.Tracing.Line;

namespace DeflectScan.Tests.Tracing.Line;

public class ProfileFilterTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    [InlineData(-3)]
    public void AShiftedLineOnASlopeIsReadOff(int missing)
    {
        ProfileFilter filter = new(0.75, 7, 3, 1.4, 6);
        double[] profile = new double[15];
        for (int i = 0; i < profile.Length; i++)
        {
            double o = (i - 7) / 2.0;
            profile[i] = 90 + (4 * o) - (20 * Math.Exp(-(o - 0.1) * (o - 0.1) / (2 * 0.75 * 0.75)));
        }

        // What lies beyond the missing samples must not matter.
        for (int i = 0; i < Math.Abs(missing); i++)
            profile[missing > 0 ? i : 14 - i] = 255;
        Assert.Equal(-20, filter.Contrast(profile, missing), 0.5);
        Assert.Equal(-20 * 0.1, filter.Shift(profile, missing) / filter.Gain(missing), 0.15);
    }
}

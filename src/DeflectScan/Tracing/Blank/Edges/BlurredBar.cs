using MathNet.Numerics;

namespace DeflectScan.Tracing.Blank;

/// <summary>A blurred bar's width at half its own height against its true width: a thin one looks too wide.</summary>
internal static class BlurredBar
{
    /// <summary>True width of a bar whose width at half its peak is <paramref name="halfWidth"/> under a Gaussian blur.</summary>
    /// <param name="halfWidth">Full width at half the peak.</param>
    /// <param name="sigma">Blur, same unit.</param>
    public static double Width(double halfWidth, double sigma)
    {
        // Above four sigmas the two edges do not touch each other; a line without width has 2.355 sigmas.
        if (sigma <= 0 || halfWidth > 4 * sigma)
            return halfWidth;
        double low = 0;
        double high = halfWidth;
        for (int i = 0; i < 40; i++)
        {
            double width = (low + high) / 2;
            if (Apparent(width, sigma) < halfWidth)
                low = width;
            else
                high = width;
        }

        return (low + high) / 2;
    }

    // Where the blurred profile erf((x + w/2) / s) - erf((x - w/2) / s), s = sqrt 2 sigma, falls to half its middle.
    private static double Apparent(double width, double sigma)
    {
        double s = Math.Sqrt(2) * sigma;
        double peak = Height(0, width, s);
        if (peak < 1e-9)
            return 2.3548 * sigma;
        double low = 0;
        double high = (width / 2) + (3 * sigma);
        for (int i = 0; i < 40; i++)
        {
            double x = (low + high) / 2;
            if (Height(x, width, s) > peak / 2)
                low = x;
            else
                high = x;
        }

        return low + high;
    }

    private static double Height(double x, double width, double s) =>
        SpecialFunctions.Erf((x + (width / 2)) / s) - SpecialFunctions.Erf((x - (width / 2)) / s);
}

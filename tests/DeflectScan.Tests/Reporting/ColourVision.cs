using SkiaSharp;

namespace DeflectScan.Tests.Reporting;

/// <summary>How a colour looks to people who lack one kind of cone, and how far apart two colours look.</summary>
internal static class ColourVision
{
    // Machado, Oliveira, Fernandes, "A physiologically-based model for simulation of color vision deficiency", IEEE TVCG 15(6), 2009,
    // table of matrices for severity 1.0, on linear RGB.
    public static readonly double[] Protanopia = [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998];
    public static readonly double[] Deuteranopia = [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881];
    public static readonly double[] Tritanopia = [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900];
    public static readonly double[] Usual = [1, 0, 0, 0, 1, 0, 0, 0, 1];

    /// <summary>CIE L*a*b* (D65) of an sRGB colour seen through a matrix on linear RGB.</summary>
    public static double[] Lab(SKColor colour, double[] seenThrough)
    {
        double[] rgb = [Linear(colour.Red), Linear(colour.Green), Linear(colour.Blue)];
        double[] seen = [.. Enumerable.Range(0, 3).Select(i => Math.Clamp(
            (seenThrough[3 * i] * rgb[0]) + (seenThrough[(3 * i) + 1] * rgb[1]) + (seenThrough[(3 * i) + 2] * rgb[2]), 0, 1))];
        // IEC 61966-2-1 primaries to CIE XYZ, over the D65 white.
        double x = F(((0.4124564 * seen[0]) + (0.3575761 * seen[1]) + (0.1804375 * seen[2])) / 0.95047);
        double y = F((0.2126729 * seen[0]) + (0.7151522 * seen[1]) + (0.0721750 * seen[2]));
        double z = F(((0.0193339 * seen[0]) + (0.1191920 * seen[1]) + (0.9503041 * seen[2])) / 1.08883);
        return [(116 * y) - 16, 500 * (x - y), 200 * (y - z)];
    }

    /// <summary>CIEDE2000 (Sharma, Wu, Dalal, Color Research and Application 30(1), 2005).</summary>
    public static double Difference(double[] one, double[] two)
    {
        double cBar = (Math.Sqrt((one[1] * one[1]) + (one[2] * one[2])) + Math.Sqrt((two[1] * two[1]) + (two[2] * two[2]))) / 2;
        double g = 0.5 * (1 - Math.Sqrt(Math.Pow(cBar, 7) / (Math.Pow(cBar, 7) + Math.Pow(25, 7))));
        (double c1, double h1) = Polar((1 + g) * one[1], one[2]);
        (double c2, double h2) = Polar((1 + g) * two[1], two[2]);
        double dl = two[0] - one[0];
        double dc = c2 - c1;
        double turn = c1 * c2 == 0 ? 0 : h2 - h1 > 180 ? h2 - h1 - 360 : h2 - h1 < -180 ? h2 - h1 + 360 : h2 - h1;
        double dh = 2 * Math.Sqrt(c1 * c2) * Sin(turn / 2);
        double l = (one[0] + two[0]) / 2;
        double c = (c1 + c2) / 2;
        double h = c1 * c2 == 0 ? h1 + h2 : Math.Abs(h1 - h2) <= 180 ? (h1 + h2) / 2 : h1 + h2 < 360 ? (h1 + h2 + 360) / 2 : (h1 + h2 - 360) / 2;
        double t = 1 - (0.17 * Cos(h - 30)) + (0.24 * Cos(2 * h)) + (0.32 * Cos((3 * h) + 6)) - (0.20 * Cos((4 * h) - 63));
        double sl = 1 + (0.015 * (l - 50) * (l - 50) / Math.Sqrt(20 + ((l - 50) * (l - 50))));
        double sc = 1 + (0.045 * c);
        double sh = 1 + (0.015 * c * t);
        double rc = 2 * Math.Sqrt(Math.Pow(c, 7) / (Math.Pow(c, 7) + Math.Pow(25, 7)));
        double rt = -Sin(60 * Math.Exp(-Math.Pow((h - 275) / 25, 2))) * rc;
        return Math.Sqrt(Math.Pow(dl / sl, 2) + Math.Pow(dc / sc, 2) + Math.Pow(dh / sh, 2) + (rt * (dc / sc) * (dh / sh)));
    }

    private static (double Chroma, double Hue) Polar(double a, double b) =>
        (Math.Sqrt((a * a) + (b * b)), a == 0 && b == 0 ? 0 : ((Math.Atan2(b, a) * 180 / Math.PI) + 360) % 360);

    private static double Sin(double degrees) => Math.Sin(degrees * Math.PI / 180);

    private static double Cos(double degrees) => Math.Cos(degrees * Math.PI / 180);

    private static double Linear(byte value) => value / 255.0 is var v && v <= 0.04045 ? v / 12.92 : Math.Pow((v + 0.055) / 1.055, 2.4);

    private static double F(double t) => t > 216.0 / 24389 ? Math.Cbrt(t) : ((24389.0 / 27 * t) + 16) / 116;
}

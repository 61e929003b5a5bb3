using System.Text.Json;
using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Checking;
using DeflectScan.Measuring.Prints;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Tests.Calibration;
using MathNet.Numerics.Distributions;
using OpenCvSharp;

namespace DeflectScan.Tests.Checking;

/// <summary>Blur and sharpening read from an edge, against edges sharpened by OpenCV's blur and weighted sum, and against photos whose sharpening is known.</summary>
public class PrintSharpnessTests
{
    [Theory]
    [InlineData(0.6, 0.4, 1.2)]
    [InlineData(0.6, 0.0, 1.2)]
    [InlineData(0.9, 0.3, 1.8)]
    [InlineData(0.7, 0.8, 0.8)]
    public void BlurAndMaskAreRead(double blurPx, double amount, double radiusPx)
    {
        PrintSharpness? read = PrintSharpness.Of(Edge(blurPx, amount, radiusPx));
        Assert.NotNull(read);
        // A pixel's own width is a blur of 1 / sqrt 12.
        Assert.InRange(read.BlurPx, Math.Sqrt((blurPx * blurPx) + (1 / 12.0)) - 0.06, Math.Sqrt((blurPx * blurPx) + (1 / 12.0)) + 0.06);
        if (amount == 0)
            Assert.InRange(read.Mask.Amount, 0, 0.08);
        else
            Assert.Equal(Overshoot(new UnsharpMask(amount, radiusPx)), Overshoot(read.Mask), 0.035);
    }

    [Fact]
    public void AnEdgeOfAnotherKindSaysNothing()
    {
        PrintEdge edge = Edge(0.6, 0, 1.2);
        // A grey border between black and white.
        PrintEdge bordered = edge with { Levels = [.. edge.Levels.Select((v, i) => Math.Abs(edge.DistancesPx[i] - 2) < 0.8 ? 120 : v)] };
        Assert.Null(PrintSharpness.Of(bordered));
    }

    /// <summary>The truth's own amount, of a mask whose radius it does not say: as the overshoot of a sharp edge under a radius of 1.2 px.</summary>
    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("one-card")]
    [InlineData("rotated-exif")]
    [InlineData("thin-braid")]
    public void AgreesWithWhatIsKnownOfAPhoto(string name)
    {
        using UprightPhoto photo = TestPhoto.Open(name);
        PlaneSolution solved = PlaneSolver.Solve(CardFinder.Find(photo), photo.Info).Value!;
        PrintSharpness? read = PrintSharpness.Of(photo, solved.Plane, solved.Cards);
        Assert.NotNull(read);
        Assert.Equal(Overshoot(new UnsharpMask(Look(name, "sharpen"), 1.2)), Overshoot(read.Mask), 0.05);
        double blur = Look(name, "blur_sigma_px");
        Assert.InRange(read.BlurPx, blur, Math.Sqrt((blur * blur) + (1 / 12.0)) + 0.04);
    }

    private static double Look(string name, string field)
    {
        using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(Repository.TestImages, name, "truth.json")));
        return truth.RootElement.GetProperty("look").GetProperty(field).GetDouble();
    }

    // What an edge of a usual blur rises above its level by, as a share of the step: that is what the eye and the tracing see of a mask.
    private static double Overshoot(UnsharpMask mask)
    {
        const double Blur = 0.65;
        double wide = Math.Sqrt((Blur * Blur) + (mask.RadiusPx * mask.RadiusPx));
        double most = 0;
        for (double x = 0; x < 6; x += 0.05)
        {
            double edge = Normal.CDF(0, Blur, x);
            most = Math.Max(most, edge + (mask.Amount * (edge - Normal.CDF(0, wide, x))) - 1);
        }

        return most;
    }

    // A slanted edge, blurred, integrated over each pixel in linear light, coded, sharpened and rounded. A blur of single pixels' values would not do:
    // its edge is made of straight pieces.
    private static PrintEdge Edge(double blurPx, double amount, double radiusPx)
    {
        const int Size = 160;
        const double Slope = 0.11;
        const int Fine = 8;
        using Mat coded = new(Size, Size, MatType.CV_32FC1);
        for (int v = 0; v < Size; v++)
        {
            for (int u = 0; u < Size; u++)
            {
                double white = 0;
                for (int k = 0; k < Fine * Fine; k++)
                    white += Normal.CDF(0, blurPx, Distance(u - 0.5 + (((k % Fine) + 0.5) / Fine), v - 0.5 + (((k / Fine) + 0.5) / Fine)));
                coded.Set(v, u, (float)(255 * CodedLight.Coded(0.03 + (0.67 * white / (Fine * Fine)))));
            }
        }

        using Mat low = new();
        Cv2.GaussianBlur(coded, low, new Size(0, 0), radiusPx);
        using Mat sharp = new();
        Cv2.AddWeighted(coded, 1 + amount, low, -amount, 0, sharp);
        const int Half = 20;
        double[] sums = new double[(2 * Half) + 1];
        int[] counts = new int[sums.Length];
        for (int v = 20; v < Size - 20; v++)
        {
            for (int u = 20; u < Size - 20; u++)
            {
                int bin = (int)Math.Round(Distance(u, v) / PrintEdge.BinPx) + Half;
                if (bin < 0 || bin >= sums.Length)
                    continue;
                sums[bin] += Math.Clamp(Math.Round(sharp.At<float>(v, u)), 0, 255);
                counts[bin]++;
            }
        }

        return new PrintEdge([.. sums.Select((_, i) => (i - Half) * PrintEdge.BinPx)], [.. sums.Select((s, i) => s / counts[i])]);

        static double Distance(double u, double v) => (u - (Size / 2.0) - (Slope * (v - (Size / 2.0)))) / Math.Sqrt(1 + (Slope * Slope));
    }
}

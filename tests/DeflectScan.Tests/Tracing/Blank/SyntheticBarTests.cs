using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing.Blank;
using OpenCvSharp;

namespace DeflectScan.Tests.Tracing.Blank;

/// <summary>Bars drawn by integrating exact edges over each pixel in linear light: what the reading of edges costs in pixels.</summary>
public class SyntheticBarTests
{
    private const double MmPerPx = 0.5;

    [Theory]
    [InlineData(0.02, 0.55, 0.0, 0.1)]
    [InlineData(0.02, 0.55, 0.3, 0.1)] // a gloss half as bright as the wall along the upper third
    [InlineData(0.02, 0.55, 0.55, 0.15)] // as bright as the wall: near the tip only two pixels of the bar are left beside it
    [InlineData(0.60, 0.08, 0.0, 0.1)] // light on dark
    public void ATaperedBarIsReadToAFractionOfAPixel(double bar, double wall, double gloss, double mostPx)
    {
        using Mat bgr = Draw(bar, wall, gloss);
        using UprightPhoto photo = AxisTruth.Wrap(bgr.Clone());
        RodPlane plane = Plane();
        Assert.True(plane.ToPlane(new Vec2(123, 45)).DistanceTo(ToPlane(123, 45)) < 1e-6);
        // Seen 0.3 mm beside its place and a twentieth too thin: within what a body smoothed along the blank is off (SeenBody).
        TracedBar start = Bar(0.3, 0.95);
        (TracedBar read, double blurPx) = Read(photo, plane, start, null);
        Assert.InRange(blurPx, 0.5, 0.95); // drawn: 0.6, and a pixel's own width
        for (double x = 60; x < 740; x += 20)
        {
            (double s, double offset) = read.Curve.Nearest(new Vec2(x, Centre(x)));
            Assert.True(Math.Abs(offset) < mostPx * MmPerPx, $"axis off by {offset / MmPerPx:0.000} px at {x} mm");
            Assert.True(Math.Abs(read.Radius(s) - Radius(x)) < 1.5 * mostPx * MmPerPx, $"radius off by {(read.Radius(s) - Radius(x)) / MmPerPx:0.000} px at {x} mm");
        }
    }

    /// <summary>Sharpened by OpenCV's blur and weighted sum: it makes the bar too thin, and taking it off gives the bar back.</summary>
    [Theory]
    [InlineData(0.4, 1.2)]
    [InlineData(0.9, 0.8)]
    public void SharpeningIsTakenOffTheEdges(double amount, double radiusPx)
    {
        using Mat plain = Draw(0.02, 0.55, 0);
        using Mat soft = new();
        Cv2.GaussianBlur(plain, soft, new Size(0, 0), radiusPx);
        Mat sharp = new();
        Cv2.AddWeighted(plain, 1 + amount, soft, -amount, 0, sharp);
        using UprightPhoto photo = AxisTruth.Wrap(sharp);
        double before = WidthErrorPx(Read(photo, Plane(), Bar(0.3, 0.95), null).Read);
        double after = WidthErrorPx(Read(photo, Plane(), Bar(0.3, 0.95), new UnsharpMask(amount, radiusPx)).Read);
        Assert.InRange(before, -0.5, -0.1);
        Assert.InRange(after, -0.05, 0.05);
    }

    private static (TracedBar Read, double BlurPx) Read(UprightPhoto photo, RodPlane plane, TracedBar start, UnsharpMask? sharpening)
    {
        SeenBody body = new(start, [.. Enumerable.Repeat(0.9, 50)]);
        TracedBar? first = new AxisRefiner(photo, plane, MmPerPx, EdgeFinder.SharpPx, sharpening, body).FirstPass(start, 1.2, out double blurPx);
        AxisRefiner refiner = new(photo, plane, MmPerPx, blurPx, sharpening, body);
        return (refiner.Pass(refiner.Pass(first!, 2, 80).Bar, 1, 60).Bar, blurPx);
    }

    /// <summary>The bar's truth is the drawn one; a taut line as bright as it runs 3 to 4 mm beside it, straight from ring to ring.</summary>
    [Theory]
    [InlineData(0.60, 1.0)]
    [InlineData(0.85, 0.6)]
    public void ABrightLineBesideABrightBarIsNotItsOutline(double bar, double line)
    {
        using Mat bgr = Draw(bar, 0.03, 0, line);
        using UprightPhoto photo = AxisTruth.Wrap(bgr.Clone());
        (TracedBar read, _) = Read(photo, Plane(), Bar(0.3, 0.95), null);
        for (double x = 100; x <= 700; x += 20)
        {
            (double s, double offset) = read.Curve.Nearest(new Vec2(x, Centre(x)));
            Assert.True(Math.Abs(offset) < 0.15 * MmPerPx, $"axis off by {offset / MmPerPx:0.000} px at {x} mm");
            Assert.True(Math.Abs(read.Radius(s) - Radius(x)) < 0.25 * MmPerPx, $"radius off by {(read.Radius(s) - Radius(x)) / MmPerPx:0.000} px at {x} mm");
        }
    }

    // Mean over the thicker half.
    private static double WidthErrorPx(TracedBar read) => Enumerable.Range(0, 16).Select(i => 80 + (20.0 * i))
        .Average(x => 2 * (read.Radius(read.Curve.Nearest(new Vec2(x, Centre(x))).S) - Radius(x)) / MmPerPx);

    private static double Centre(double x) => 100 + (0.00012 * (x - 400) * (x - 400));

    private static double Radius(double x) => 6 - (0.006 * x);

    private const double LineMm = 0.4;

    // From ring to ring, each 4 mm above the bar and 100 mm from the next.
    private static double Line(double x)
    {
        double from = 100 * Math.Floor(x / 100);
        double Ring(double at) => Centre(at) + Radius(at) + 4;
        return Ring(from) + ((x - from) / 100 * (Ring(from + 100) - Ring(from)));
    }

    private static TracedBar Bar(double shift, double thinner)
    {
        Vec2[] points = [.. Enumerable.Range(0, 51).Select(i => 20 + (i * 15.2)).Select(x => new Vec2(x, Centre(x) + shift))];
        return new TracedBar(ArcCurve.Through(points), [.. points.Select(p => thinner * Radius(p.X))]);
    }

    // 1600 x 400 px, 0.5 mm a px, plane origin at the lower left, camera far away and square on.
    private static RodPlane Plane()
    {
        const double Distance = 2000;
        CameraModel camera = new(Distance / MmPerPx, new Vec2(800, 200), 0, 0, 0, 0, 0);
        return new RodPlane(camera, [1, 0, -400, 0, -1, 100, 0, 0, Distance]);
    }

    // The same map written out: for speed.
    private static Vec2 ToPlane(double u, double v) => new(400 + ((u - 800) * MmPerPx), 100 - ((v - 200) * MmPerPx));

    private static Mat Draw(double bar, double wall, double gloss, double line = double.NaN)
    {
        using Mat linear = new(400, 1600, MatType.CV_32FC1);
        const int Fine = 4;
        for (int v = 0; v < 400; v++)
        {
            for (int u = 0; u < 1600; u++)
            {
                double sum = 0;
                for (int k = 0; k < Fine * Fine; k++)
                {
                    Vec2 mm = ToPlane(u - 0.5 + ((k % Fine + 0.5) / Fine), v - 0.5 + ((k / Fine + 0.5) / Fine));
                    double slope = 0.00024 * (mm.X - 400);
                    double across = (mm.Y - Centre(mm.X)) / Math.Sqrt(1 + (slope * slope));
                    double radius = Radius(mm.X);
                    bool onLine = !double.IsNaN(line) && Math.Abs(mm.Y - Line(mm.X)) < LineMm / 2;
                    sum += Math.Abs(across) > radius ? onLine ? line : wall : across > 0.2 * radius && across < 0.5 * radius ? Math.Max(bar, gloss) : bar;
                }

                linear.Set(v, u, (float)(sum / (Fine * Fine)));
            }
        }

        using Mat soft = new();
        Cv2.GaussianBlur(linear, soft, new Size(0, 0), 0.6);
        Mat bgr = new(400, 1600, MatType.CV_8UC3);
        for (int v = 0; v < 400; v++)
        {
            for (int u = 0; u < 1600; u++)
            {
                double l = soft.At<float>(v, u);
                byte code = (byte)Math.Round(255 * (l <= 0.0031308 ? 12.92 * l : (1.055 * Math.Pow(l, 1 / 2.4)) - 0.055));
                bgr.Set(v, u, new Vec3b(code, code, code));
            }
        }

        return bgr;
    }
}

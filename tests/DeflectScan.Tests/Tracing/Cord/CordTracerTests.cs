using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Cord;
using OpenCvSharp;

namespace DeflectScan.Tests.Tracing.Cord;

/// <summary>Drawn pictures of known bars: one mm a px, a tip at (400, 150) that points right and a bend that opens downwards.</summary>
public class CordTracerTests
{
    private const int Width = 800;
    private const int Height = 700;
    private static readonly Vec2 TipPx = new(400, 150);

    [Theory]
    [InlineData(-110.0, 3.0)]
    [InlineData(-85.0, 2.0)]
    [InlineData(-63.5, 5.0)]
    [InlineData(-130.0, 3.0)]
    public void AStraightBarFromTheTipIsTheCord(double directionDeg, double widthPx)
    {
        CordTrace cord = Trace(wall => Bar(wall, TipPx, directionDeg, 480, widthPx, 60))!;
        Assert.Equal(directionDeg, cord.DirectionDeg, 0.1);
        Assert.Equal(widthPx, cord.WidthMm, 0.8);
        Assert.True(cord.Support > 0.9);
    }

    [Fact]
    public void ALightBarOnADarkWallIsFoundToo() =>
        Assert.Equal(-104, Trace(wall => Bar(wall, TipPx, -104, 480, 3, 235), wallLevel: 60)!.DirectionDeg, 0.1);

    [Fact]
    public void ABareWallHasNoCord() => Assert.Null(Trace(_ => { }));

    [Fact]
    public void ABarThatPassesBesideTheTipIsNot() => Assert.Null(Trace(wall => Bar(wall, TipPx + new Vec2(25, 0), -90, 480, 3, 60)));

    [Fact]
    public void ACurvedBarIsNot() => Assert.Null(Trace(wall =>
        Cv2.Polylines(
            wall,
            [[.. Enumerable.Range(0, 60).Select(i => new Point(TipPx.X + (0.0012 * 64 * i * i), TipPx.Y + (8 * i)))]],
            isClosed: false,
            Scalar.All(60),
            3,
            LineTypes.AntiAlias)));

    [Fact]
    public void TheLineAtItsWeightIsNotTheCord()
    {
        Vec2 end = TipPx + new Vec2(0, 80);
        Assert.Null(Trace(wall => Bar(wall, TipPx, -90, 80, 1.5, 60), hangEndPx: end));
        CordTrace cord = Trace(wall =>
        {
            Bar(wall, TipPx, -90, 80, 1.5, 60);
            Bar(wall, TipPx, -97, 480, 3, 90);
        },
            hangEndPx: end)!;
        Assert.Equal(-97, cord.DirectionDeg, 0.15);
    }

    private static void Bar(Mat wall, Vec2 fromPx, double directionDeg, double lengthPx, double widthPx, double level)
    {
        const int Shift = 8;
        (double sin, double cos) = Math.SinCos(directionDeg * Math.PI / 180);
        Vec2 along = new Vec2(cos, -sin) * lengthPx;

        // OpenCV paints the px of the outline too: half a px on each side.
        Vec2 half = new Vec2(-along.Y, along.X).Normalized() * ((widthPx - 1) / 2);
        Vec2[] corners = [fromPx + half, fromPx + along + half, fromPx + along - half, fromPx - half];
        Cv2.FillConvexPoly(wall, [.. corners.Select(c => new Point((int)Math.Round(c.X * (1 << Shift)), (int)Math.Round(c.Y * (1 << Shift))))], Scalar.All(level), LineTypes.AntiAlias, Shift);
    }

    private static CordTrace? Trace(Action<Mat> draw, double wallLevel = 180, Vec2? hangEndPx = null)
    {
        Mat wall = new(Height, Width, MatType.CV_8UC3, Scalar.All(wallLevel));
        draw(wall);
        Cv2.GaussianBlur(wall, wall, new Size(0, 0), 0.8);
        using Mat noise = new(Height, Width, MatType.CV_8UC3);
        Cv2.SetTheRNG(5);
        Cv2.Randn(noise, Scalar.All(128), Scalar.All(2.5));
        Cv2.AddWeighted(wall, 1, noise, 1, -128, wall);
        using UprightPhoto photo = new(new PhotoInfo("drawn.png", new string('0', 64), Width, Height, 1, null, null, null, null, null, null, null), wall);

        // x right and y up in mm, one a px: a camera far enough away that a px is a mm.
        const double Focal = 1000;
        RodPlane plane = new(new CameraModel(Focal, new Vec2(0, 0), 0, 0, 0, 0, 0), [1 / Focal, 0, 0, 0, -1 / Focal, 0, 0, 0, 1]);
        Vec2 tip = plane.ToPlane(TipPx);
        Vec2[] axis = [.. Enumerable.Range(0, 31).Select(i => tip + new Vec2(-10 * i, -0.0006 * 100 * i * i))];
        double[] stations = [0, 300];
        BlankAxis blank = new(ArcCurve.Through(axis), stations, [2, 6], [0.03, 0.03], [0.03, 0.03], 300, 1);
        return CordTracer.Trace(photo, plane, blank, hangEndPx is { } px ? plane.ToPlane(px) : null);
    }
}

using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Imaging;
using OpenCvSharp;

namespace DeflectScan.Tracing.Reading;

/// <summary>
/// Where the pixels of the reel's picture lie: 1 mm a pixel, columns along the axis, which is carried straight on into the handle, towards the tip to the right; rows
/// across it, the inside of the bend downwards, as far as a reel reaches on either side. The network was trained on pictures of just this form.
/// </summary>
/// <param name="StartStation">Station (mm from the axis' end at the tip) of the left border.</param>
/// <param name="InsideSign">+1 where the axis' normal points to the inside of the bend, else -1.</param>
internal sealed record ReelPicture(double StartStation, double InsideSign)
{
    /// <summary>Height, px.</summary>
    public const int Rows = 256;

    /// <summary>Width, px.</summary>
    public const int Columns = 384;

    /// <summary>Where the axis runs.</summary>
    public const double AxisRow = OutsideMm - 0.5;

    /// <summary>The middle of the width.</summary>
    public const double MiddleColumn = (Columns - 1) / 2.0;

    /// <summary>How far it reaches to the outside of the bend, mm: a casting reel and its crank.</summary>
    private const double OutsideMm = 100;

    /// <summary>How far it reaches back from where the blank enters the handle, mm: the longest reel and the foremost hood.</summary>
    private const double BehindMm = 300;

    /// <summary>Photos finer than this, mm a px, are reduced first: every pixel is the mean of 2 x 2 samples half a mm apart.</summary>
    private const double FinestMm = 0.4;

    private const int Fine = 2;

    /// <summary>Samples the picture, 8-bit BGR; the caller disposes it.</summary>
    /// <param name="photoBgr">The photo.</param>
    /// <param name="plane">The rod's plane.</param>
    /// <param name="axis">The traced blank.</param>
    /// <param name="frame">Where the pixels lie.</param>
    public static Mat Sample(Mat photoBgr, RodPlane plane, BlankAxis axis, out ReelPicture frame)
    {
        double end = Math.Min(axis.HandleStationMm, axis.Curve.Length);
        frame = new ReelPicture(end + BehindMm, StripFrame.Of(axis).InsideSign);
        int reduce = Math.Max(1, (int)Math.Round(FinestMm / plane.MmPerPx(axis.Curve.Point(end))));
        if (reduce == 1)
            return frame.Sampled(photoBgr, 1, plane, axis);
        using Mat small = new();
        Cv2.Resize(photoBgr, small, new Size(photoBgr.Width / reduce, photoBgr.Height / reduce), 0, 0, InterpolationFlags.Area);
        return frame.Sampled(small, (double)photoBgr.Width / small.Width, plane, axis);
    }

    /// <summary>Station of a (fractional) column's middle, mm from the axis' end.</summary>
    public double Station(double column) => StartStation - column - 0.5;

    /// <summary>The column whose middle lies at a station.</summary>
    public double ColumnOf(double station) => StartStation - station - 0.5;

    private Mat Sampled(Mat bgr, double reduced, RodPlane plane, BlankAxis axis)
    {
        using Mat mapX = new(Columns * Fine, Rows * Fine, MatType.CV_32FC1);
        using Mat mapY = new(Columns * Fine, Rows * Fine, MatType.CV_32FC1);
        (double First, double Last) heights = (Height(Middle(0)), Height(Middle((Rows * Fine) - 1)));
        for (int c = 0; c < Columns * Fine; c++)
        {
            double s = Station(Middle(c));
            ReadingStrip.MapColumn(plane, axis.Curve.Point(s), axis.Curve.Normal(s) * InsideSign, heights, reduced, mapX.AsSpanOfRow(c), mapY.AsSpanOfRow(c));
        }

        using Mat fine = new();
        Cv2.Remap(bgr, fine, mapX, mapY, InterpolationFlags.Linear, BorderTypes.Replicate);
        using Mat lying = new();
        Cv2.Resize(fine, lying, new Size(Rows, Columns), 0, 0, InterpolationFlags.Area);
        Mat picture = new();
        Cv2.Transpose(lying, picture);
        return picture;
    }

    private static double Height(double row) => row + 0.5 - OutsideMm;

    // Of a fine sample, in pixels.
    private static double Middle(int sample) => ((sample + 0.5) / Fine) - 0.5;
}

using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Imaging;
using OpenCvSharp;

namespace DeflectScan.Tracing.Reading;

/// <summary>
/// The handle with the whole reel as its network reads it: columns of 1 mm along the blank's axis, carried straight on into the handle, the reel's side to the left; rows of
/// 1 mm across it, the inside of the bend downwards. The uppermost rows hold no picture but a grey that says how the view leans along the blank
/// (<see cref="ViewSlope"/>): from the side a round rim reaches farther than the plane that it stands in, by its radius times that.
/// </summary>
internal static class ReelPicture
{
    /// <summary>Size, px.</summary>
    public const int Rows = 256;
    public const int Columns = 384;

    /// <summary>How far it reaches back into the handle and to the outside of the bend, mm: a spinning reel hangs up to 145 mm inside, a casting one stands up to 95 mm outside (common practice, no source).</summary>
    public const double HandleMm = 280;
    private const double OutsideMm = 100;

    private const int SlopeRows = 16;
    private const double MiddleGrey = 127.5;
    private const double GreyPerSlope = 250;

    /// <summary>Photos finer than this, mm a px, are reduced first, so that no detail falls between samples.</summary>
    private const double FinestMm = 0.5;

    /// <summary>The station (mm from the axis' end at the tip) of a column's middle.</summary>
    public static double Station(BlankAxis axis, double column) => Math.Min(axis.HandleStationMm, axis.Curve.Length) + HandleMm - column - 0.5;

    /// <summary>The column whose middle lies at a station.</summary>
    public static double ColumnOf(BlankAxis axis, double station) => Math.Min(axis.HandleStationMm, axis.Curve.Length) + HandleMm - station - 0.5;

    /// <summary>How far the view leans along the blank at the handle's end: the tangent of its angle against the plane's normal, positive where the camera stands towards the tip.</summary>
    public static double ViewSlope(RodPlane plane, BlankAxis axis)
    {
        double end = Math.Min(axis.HandleStationMm, axis.Curve.Length);
        (Vec2 foot, double height) = plane.CameraPosition();
        return (axis.Curve.Point(end) - foot).Dot(axis.Curve.Tangent(end)) / height;
    }

    /// <summary>Its four corners in the rod's plane, mm.</summary>
    public static IEnumerable<Vec2> Corners(BlankAxis axis, double insideSign) =>
        from column in new[] { 0, Columns }
        from row in new[] { 0, Rows }
        let s = Station(axis, column)
        select axis.Curve.Point(s) + (axis.Curve.Normal(s) * (insideSign * (row - OutsideMm)));

    /// <summary>The picture, 8-bit BGR; the caller disposes it.</summary>
    /// <param name="photoBgr">8-bit, upright.</param>
    /// <param name="plane">The rod's plane.</param>
    /// <param name="axis">The traced blank.</param>
    /// <param name="insideSign">+1 where the axis' normal points to the inside of the bend, else -1.</param>
    public static Mat Sample(Mat photoBgr, RodPlane plane, BlankAxis axis, double insideSign)
    {
        double pxMm = plane.MmPerPx(axis.Curve.Point(Math.Min(axis.HandleStationMm, axis.Curve.Length)));
        int reduce = Math.Max(1, (int)Math.Round(FinestMm / pxMm));
        using Mat small = new();
        Cv2.Resize(photoBgr, small, new Size(photoBgr.Width / reduce, photoBgr.Height / reduce), 0, 0, InterpolationFlags.Area);
        double scale = (double)small.Width / photoBgr.Width;
        using Mat x = new(Columns, Rows, MatType.CV_32FC1);
        using Mat y = new(Columns, Rows, MatType.CV_32FC1);
        Parallel.For(0, Columns, c =>
        {
            double s = Station(axis, c);
            Vec2 foot = axis.Curve.Point(s);
            Vec2 inside = axis.Curve.Normal(s) * insideSign;
            Span<float> toX = x.AsSpanOfRow(c);
            Span<float> toY = y.AsSpanOfRow(c);
            for (int r = 0; r < Rows; r++)
            {
                Vec2 px = plane.ToPhoto(foot + (inside * (r + 0.5 - OutsideMm)));
                (toX[r], toY[r]) = ((float)(((px.X + 0.5) * scale) - 0.5), (float)(((px.Y + 0.5) * scale) - 0.5));
            }
        });
        using Mat lying = new();
        Cv2.Remap(small, lying, x, y, InterpolationFlags.Linear, BorderTypes.Replicate);
        Mat picture = new();
        Cv2.Transpose(lying, picture);
        double grey = Math.Clamp(MiddleGrey + (GreyPerSlope * ViewSlope(plane, axis)), 0, 255);
        using Mat band = picture.RowRange(0, SlopeRows);
        band.SetTo(Scalar.All(grey));
        return picture;
    }
}

using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using OpenCvSharp;

namespace DeflectScan.Tracing.Reading;

/// <summary>
/// The reel's front from what a network says of the handle's picture: its place on the axis, which is carried straight on into the handle. No reel seen is a
/// result of its own.
/// </summary>
internal static class ReelFinder
{
    /// <summary>Most probability of there being no reel at which a front is said: of 289 held-back pictures with a reel all said less, of 53 without one none (docs/reader.md).</summary>
    private const double MostNone = 0.01;

    /// <summary>Where the network is less sure than this, px, the reel is like none that it learnt from: on the same pictures its spread is 2 at 95 % (docs/reader.md).</summary>
    private const double MostSpreadPx = 6;

    /// <summary>
    /// Standard uncertainty besides the network's spread, mm: its errors on its own kind of pictures are 1, but no renderer knows every reel. Chosen, not
    /// derived.
    /// </summary>
    private const double ReadSdMm = 3;

    /// <summary>
    /// The reel's front is seen up to about this far from the axis, mm (foot to spool's rim, common practice, no source): by a lever so long, what the axis
    /// is turned moves its foot on the axis.
    /// </summary>
    private const double LeverMm = 60;

    /// <summary>Length of the last traced stretch that says how the axis goes on, mm (chosen).</summary>
    private const double LastMm = 60;

    /// <summary>The reel's front; null where none is seen, or none like those that the network knows.</summary>
    /// <param name="photo">Upright photo, outside of which no front is said.</param>
    /// <param name="plane">The rod's plane.</param>
    /// <param name="axis">The traced blank.</param>
    /// <param name="insideSign">+1 where the axis' normal points to the inside of the bend, else -1.</param>
    public static ReelFront? Find(UprightPhoto photo, RodPlane plane, BlankAxis axis, double insideSign)
    {
        using Mat picture = ReelPicture.Sample(photo.Bgr, plane, axis, insideSign);
        ReelReader read = ReelReader.Read(picture);
        double station = ReelPicture.Station(axis, read.Column);
        Vec2 at = axis.Curve.Point(station);
        Vec2 px = plane.ToPhoto(at);
        double sd = Math.Sqrt(Square(ReadSdMm) + Square(read.SdPx) + Square(LeverMm * TiltSd(axis, station)));
        bool isInside = px.X >= 0 && px.Y >= 0 && px.X <= photo.Info.WidthPx - 1 && px.Y <= photo.Info.HeightPx - 1;
        return read.None > MostNone || read.SdPx > MostSpreadPx || !isInside ? null : new ReelFront(at, sd);
    }

    /// <summary>
    /// Beneath the handle the blank goes on bending, from as much as before it down to nothing at the clamp: against the straight continuation the axis is turned
    /// by anything from 0 to curvature times way (uniform, JCGM 100:2008, 4.3.7). The direction at the last traced stretch's end has its own uncertainty.
    /// </summary>
    private static double TiltSd(BlankAxis axis, double station)
    {
        double end = Math.Min(axis.HandleStationMm, axis.Curve.Length);
        double start = Math.Max(0, end - LastMm);
        double turn = Math.Abs(axis.Curve.Tangent(start).TurnTo(axis.Curve.Tangent(end))) / (end - start) * Math.Max(0, station - end);
        double hidden = turn / Math.Sqrt(12);
        double direction = Math.Sqrt(2) * axis.LocalSd(end) / LastMm;
        return Math.Sqrt(Square(hidden) + Square(direction));
    }

    private static double Square(double v) => v * v;
}

using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Reading;

/// <summary>
/// The reel's front from what its network says: on the blank's axis, which is carried straight on into the handle. No reel seen, or none whose front can be told, is a
/// result of its own.
/// </summary>
internal static class ReelFinder
{
    /// <summary>Least probability of a reel.</summary>
    public const double LeastProbability = 0.9;

    /// <summary>A front that is told no better than this, mm (standard), is not said: such a reading has two places in mind.</summary>
    private const double MostSpreadMm = 12;

    /// <summary>
    /// Standard uncertainty of the surest reading, mm, in quadrature with what the network says of itself: on 99 own scenes with a reel that it had not learnt from, 97 lie within
    /// two of both together (docs/reader.md).
    /// </summary>
    private const double ReadSdMm = 1.5;

    /// <summary>
    /// The reel's front is seen up to about this far from the axis, mm (foot to spool's rim, common practice, no source): by a lever so long, what the axis
    /// is turned moves its foot on the axis.
    /// </summary>
    private const double LeverMm = 60;

    /// <summary>
    /// A reel's front is round, its rim up to so far before and behind the rod's plane, mm (a spool's radius, half a casting frame's width: common practice, no
    /// source). Seen from the side its foremost outline lies ahead of it by rim times the view's slope. The network learnt to point at the front itself; where it
    /// does not know the rim for one it points between the two (uniform, JCGM 100:2008, 4.3.7).
    /// </summary>
    private const double RimMm = 22;

    /// <summary>Length of the last traced stretch that says how the axis goes on, mm (chosen).</summary>
    private const double LastMm = 60;

    /// <summary>Whether a front is said at all.</summary>
    public static bool IsSaid(ReelReading reading) => reading.Probability >= LeastProbability && reading.SpreadMm <= MostSpreadMm;

    /// <summary>Standard uncertainty of a front as read on an exact axis, mm.</summary>
    public static double SdMm(ReelReading reading) => Math.Sqrt(Square(ReadSdMm) + Square(reading.SpreadMm));

    /// <summary>The reel's front; null where none is seen, or it is not sure where.</summary>
    /// <param name="reading">What the network says.</param>
    /// <param name="axis">The traced blank.</param>
    /// <param name="plane">The plane that it lies in.</param>
    /// <param name="photo">The photo, outside of which no front is said.</param>
    public static ReelFront? Find(ReelReading reading, BlankAxis axis, RodPlane plane, PhotoInfo photo)
    {
        if (!IsSaid(reading))
            return null;
        Vec2 at = axis.Curve.Point(reading.Station);
        Vec2 px = plane.ToPhoto(at);
        if (px.X < 0 || px.Y < 0 || px.X > photo.WidthPx - 1 || px.Y > photo.HeightPx - 1)
            return null;
        double ahead = RimMm * ViewSlope(at, axis.Curve.Tangent(reading.Station), plane) / Math.Sqrt(12);
        double turned = LeverMm * Math.Sqrt(2) * axis.LocalSd(Math.Min(axis.HandleStationMm, axis.Curve.Length)) / LastMm;
        return new ReelFront(at, Math.Sqrt(Square(SdMm(reading)) + Square(turned) + Square(ahead)));
    }

    // How far the view of a place leans along the blank: the tangent of its angle against the plane's normal.
    private static double ViewSlope(Vec2 at, Vec2 along, RodPlane plane)
    {
        (Vec2 foot, double height) = plane.CameraPosition();
        return Math.Abs((at - foot).Dot(along) / height);
    }

    private static double Square(double v) => v * v;
}

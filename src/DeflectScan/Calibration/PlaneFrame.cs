using DeflectScan.Geometry;

namespace DeflectScan.Calibration;

/// <summary>
/// Turns a fit's plane into the rod plane's own frame: the origin is what the middle of the photo shows, x runs right there.
/// The rule depends on the photo alone, so displaced planes are comparable point by point.
/// </summary>
internal static class PlaneFrame
{
    /// <summary>The plane in its own frame, and the map from the fit's frame to it (rotation angle and the origin in the fit's frame).</summary>
    public static (RodPlane Plane, Vec2 OriginMm, double Angle) Of(CameraModel camera, double[] homography, Vec2 middlePx)
    {
        RodPlane raw = new(camera, homography);
        Vec2 origin = raw.ToPlane(middlePx);
        Vec2 right = raw.ToPlane(middlePx + new Vec2(1, 0)) - origin;
        double angle = Math.Atan2(right.Y, right.X);
        (double sin, double cos) = Math.SinCos(angle);
        double[] h = new double[9];
        for (int row = 0; row < 3; row++)
        {
            (double a, double b, double c) = (homography[3 * row], homography[(3 * row) + 1], homography[(3 * row) + 2]);
            h[3 * row] = (a * cos) + (b * sin);
            h[(3 * row) + 1] = (b * cos) - (a * sin);
            h[(3 * row) + 2] = (a * origin.X) + (b * origin.Y) + c;
        }

        return (new RodPlane(camera, h), origin, angle);
    }
}

using DeflectScan.Geometry;

namespace DeflectScan.Calibration;

/// <summary>
/// Pinhole camera with radial and tangential distortion in the convention of OpenCV (k1 k2 p1 p2 k3; Brown 1971).
/// </summary>
/// <param name="FocalPx">Focal length in px (square pixels).</param>
/// <param name="PrincipalPx">Principal point in px.</param>
/// <param name="K1">Radial, r^2.</param>
/// <param name="K2">Radial, r^4.</param>
/// <param name="P1">Tangential.</param>
/// <param name="P2">Tangential.</param>
/// <param name="K3">Radial, r^6.</param>
public sealed record CameraModel(double FocalPx, Vec2 PrincipalPx, double K1, double K2, double P1, double P2, double K3)
{
    /// <summary>From normalised pinhole coordinates (x/z, y/z) to a photo's px.</summary>
    public Vec2 Distort(Vec2 normalised)
    {
        (double x, double y) = (normalised.X, normalised.Y);
        double r2 = (x * x) + (y * y);
        double radial = 1 + (r2 * (K1 + (r2 * (K2 + (r2 * K3)))));
        double dx = (x * radial) + (2 * P1 * x * y) + (P2 * (r2 + (2 * x * x)));
        double dy = (y * radial) + (P1 * (r2 + (2 * y * y))) + (2 * P2 * x * y);
        return new Vec2(PrincipalPx.X + (FocalPx * dx), PrincipalPx.Y + (FocalPx * dy));
    }

    /// <summary>From a photo's px to normalised pinhole coordinates, by fixed-point iteration (to 1e-12 for lenses of a phone).</summary>
    public Vec2 Undistort(Vec2 px)
    {
        Vec2 target = (px - PrincipalPx) / FocalPx;
        Vec2 guess = target;
        for (int i = 0; i < 40; i++)
        {
            Vec2 back = (Distort(guess) - PrincipalPx) / FocalPx;
            Vec2 miss = target - back;
            guess += miss;
            if (miss.LengthSquared < 1e-26)
                break;
        }

        return guess;
    }
}

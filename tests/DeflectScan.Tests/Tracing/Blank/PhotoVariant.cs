using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Scenes;
using OpenCvSharp;

namespace DeflectScan.Tests.Tracing.Blank;

/// <summary>A test photo changed on purpose: mirrored, turned, scaled or made worse, with the plane that belongs to it.</summary>
/// <param name="Bgr">The changed pixels; owned.</param>
/// <param name="Camera">Lens of the changed photo.</param>
/// <param name="H">Plane to pinhole, row-major 3 x 3, plane axes as the changed photo shows them: x right, y up.</param>
/// <param name="FromRendered">From the rendered photo's px to the changed photo's.</param>
internal sealed record PhotoVariant(Mat Bgr, CameraModel Camera, double[] H, Func<Vec2, Vec2> FromRendered)
{
    public RodPlane Plane => new(Camera, H);

    public static PhotoVariant Of(Mat bgr, Truth truth)
    {
        double[][] r = truth.Camera.R;
        double[] t = truth.Camera.T;
        double[] h = [r[0][0], r[0][1], t[0], r[1][0], r[1][1], t[1], r[2][0], r[2][1], t[2]];
        return new PhotoVariant(bgr, truth.RodPlane().Camera, h, p => p);
    }

    /// <summary>Left and right exchanged: the rod points the other way.</summary>
    public PhotoVariant Mirrored()
    {
        Mat flipped = new();
        Cv2.Flip(Bgr, flipped, FlipMode.Y);
        double right = Bgr.Width - 1;
        return Next(flipped, [-1, 0, 0, 1], p => new Vec2(right - p.X, p.Y));
    }

    /// <summary>Turned by a quarter clockwise.</summary>
    public PhotoVariant Turned()
    {
        Mat turned = new();
        Cv2.Rotate(Bgr, turned, RotateFlags.Rotate90Clockwise);
        double bottom = Bgr.Height - 1;
        return Next(turned, [0, -1, 1, 0], p => new Vec2(bottom - p.Y, p.X));
    }

    /// <summary>More or fewer pixels of the same scene.</summary>
    public PhotoVariant Scaled(double k)
    {
        Mat scaled = new();
        Size size = new(Math.Round(Bgr.Width * k), Math.Round(Bgr.Height * k));
        Cv2.Resize(Bgr, scaled, size, 0, 0, k < 1 ? InterpolationFlags.Area : InterpolationFlags.Cubic);
        double kx = size.Width / (double)Bgr.Width;
        CameraModel camera = Camera with { FocalPx = Camera.FocalPx * kx, PrincipalPx = ScalePx(Camera.PrincipalPx, kx) };
        return Replace(scaled, camera, H, p => ScalePx(p, kx));
    }

    /// <summary>Other pixels at the same places.</summary>
    public PhotoVariant Filtered(Func<Mat, Mat> filter) => Replace(filter(Bgr), Camera, H, p => p);

    public PhotoVariant Inverted() => Filtered(m =>
    {
        Mat inverse = new();
        Cv2.BitwiseNot(m, inverse);
        return inverse;
    });

    public PhotoVariant Blurred(double sigmaPx) => Filtered(m =>
    {
        Mat soft = new();
        Cv2.GaussianBlur(m, soft, new Size(0, 0), sigmaPx);
        return soft;
    });

    /// <summary>Gain and Gaussian noise in 8-bit levels, from a fixed seed.</summary>
    public PhotoVariant Exposed(double gain, double noise) => Filtered(m =>
    {
        using Mat real = new();
        m.ConvertTo(real, MatType.CV_32FC3, gain);
        using Mat grain = new(m.Size(), MatType.CV_32FC3);
        Cv2.SetTheRNG(7);
        Cv2.Randn(grain, Scalar.All(0), Scalar.All(noise));
        using Mat sum = new();
        Cv2.Add(real, grain, sum);
        Mat exposed = new();
        sum.ConvertTo(exposed, MatType.CV_8UC3);
        return exposed;
    });

    private static Vec2 ScalePx(Vec2 p, double k) => new(((p.X + 0.5) * k) - 0.5, ((p.Y + 0.5) * k) - 0.5);

    // The picture's turn or mirror acts on the pinhole coordinates; the plane's axes follow so that x stays right and y up.
    private PhotoVariant Next(Mat bgr, double[] turn, Func<Vec2, Vec2> map)
    {
        // Tangential distortion is r^2 t + 2 (t . n) n with t = (p2, p1): t turns with the picture.
        double p2 = (turn[0] * Camera.P2) + (turn[1] * Camera.P1);
        double p1 = (turn[2] * Camera.P2) + (turn[3] * Camera.P1);
        CameraModel camera = Camera with { PrincipalPx = map(Camera.PrincipalPx), P1 = p1, P2 = p2 };
        double[] rows = [.. H];
        for (int k = 0; k < 3; k++)
        {
            rows[k] = (turn[0] * H[k]) + (turn[1] * H[3 + k]);
            rows[3 + k] = (turn[2] * H[k]) + (turn[3] * H[3 + k]);
        }

        // With y up: (x, y) of the rendered plane = (t00 x' - t10 y', -t01 x' + t11 y').
        double[] h = [.. rows];
        for (int r = 0; r < 3; r++)
        {
            h[3 * r] = (rows[3 * r] * turn[0]) - (rows[(3 * r) + 1] * turn[1]);
            h[(3 * r) + 1] = (-rows[3 * r] * turn[2]) + (rows[(3 * r) + 1] * turn[3]);
        }

        return Replace(bgr, camera, h, map);
    }

    private PhotoVariant Replace(Mat bgr, CameraModel camera, double[] h, Func<Vec2, Vec2> map)
    {
        Func<Vec2, Vec2> before = FromRendered;
        Bgr.Dispose();
        return new PhotoVariant(bgr, camera, h, p => map(before(p)));
    }
}

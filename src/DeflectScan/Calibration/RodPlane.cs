using DeflectScan.Geometry;

namespace DeflectScan.Calibration;

/// <summary>
/// The plane that the bent blank lies in, and how the camera sees it. Plane frame: millimetres, x right, y up as the photo shows it
/// (the origin and the rotation are the solver's choice; a mirrored view does not occur since the cards stay readable).
/// Straight lines on the rod are straight in this frame: lens distortion is taken out.
/// </summary>
public sealed class RodPlane
{
    private readonly double[] _h; // row-major 3 × 3, plane mm (x, y, 1) to normalised pinhole
    private readonly double[] _inverse;

    /// <param name="camera">Lens of the photo.</param>
    /// <param name="normalisedFromPlane">Row-major 3 × 3 homography from (x mm, y mm, 1) to normalised pinhole coordinates.</param>
    /// <param name="variants">See <see cref="Variants"/>.</param>
    public RodPlane(CameraModel camera, IReadOnlyList<double> normalisedFromPlane, IReadOnlyList<RodPlane>? variants = null)
    {
        Camera = camera;
        _h = [.. normalisedFromPlane];
        _inverse = Invert(_h);
        Variants = variants ?? [];
        VariantCauses = [.. Variants.Select(_ => UncertaintyCause.Scale)];
    }

    public CameraModel Camera { get; }

    /// <summary>
    /// This plane displaced by one standard deviation along each principal direction of the calibration's covariance, one at a time.
    /// For any figure f the standard uncertainty from calibration is sqrt(sum over k of (f(Variants[k]) - f(this))^2):
    /// linear propagation with the full covariance (JCGM 100:2008, 5.2), and the same k in two figures is the same cause.
    /// Empty for a plane without a covariance and for the variants themselves.
    /// </summary>
    public IReadOnlyList<RodPlane> Variants { get; }

    /// <summary>What each of <see cref="Variants"/> comes from, in the same order.</summary>
    public IReadOnlyList<UncertaintyCause> VariantCauses { get; private init; }

    /// <summary>The same plane with other variants, and what each comes from.</summary>
    public RodPlane WithVariants(IReadOnlyList<(RodPlane Plane, UncertaintyCause Cause)> variants) =>
        new(Camera, _h, [.. variants.Select(v => v.Plane)]) { VariantCauses = [.. variants.Select(v => v.Cause)] };

    /// <summary>The same plane with other variants.</summary>
    public RodPlane WithVariants(IReadOnlyList<RodPlane> variants) => new(Camera, _h, variants);

    /// <summary>The plane whose lengths are all larger by a factor, about the same origin; no variants.</summary>
    public RodPlane Scaled(double factor) =>
        new(Camera, [_h[0] / factor, _h[1] / factor, _h[2], _h[3] / factor, _h[4] / factor, _h[5], _h[6] / factor, _h[7] / factor, _h[8]]);

    /// <summary>This plane displaced along its variants all at once, linearly; no variants.</summary>
    /// <param name="shares">For each variant, in standard deviations.</param>
    public RodPlane Displaced(IReadOnlyList<double> shares)
    {
        double[] h = [.. _h];
        CameraModel camera = Camera;
        for (int k = 0; k < Variants.Count; k++)
        {
            double share = shares[k];
            RodPlane v = Variants[k];
            for (int i = 0; i < h.Length; i++)
                h[i] += share * (v._h[i] - _h[i]);
            camera = new CameraModel(
                camera.FocalPx + (share * (v.Camera.FocalPx - Camera.FocalPx)),
                camera.PrincipalPx + ((v.Camera.PrincipalPx - Camera.PrincipalPx) * share),
                camera.K1 + (share * (v.Camera.K1 - Camera.K1)),
                camera.K2 + (share * (v.Camera.K2 - Camera.K2)),
                camera.P1 + (share * (v.Camera.P1 - Camera.P1)),
                camera.P2 + (share * (v.Camera.P2 - Camera.P2)),
                camera.K3 + (share * (v.Camera.K3 - Camera.K3)));
        }

        return new RodPlane(camera, h);
    }

    /// <summary>The same plane as a photo of sides divided by <paramref name="reduce"/> shows it; no variants.</summary>
    public RodPlane SeenReduced(double reduce) =>
        new(Camera with { FocalPx = Camera.FocalPx / reduce, PrincipalPx = ((Camera.PrincipalPx + new Vec2(0.5, 0.5)) / reduce) - new Vec2(0.5, 0.5) }, _h);

    public Vec2 ToPhoto(Vec2 planeMm)
    {
        double w = (_h[6] * planeMm.X) + (_h[7] * planeMm.Y) + _h[8];
        return Camera.Distort(new Vec2(
            ((_h[0] * planeMm.X) + (_h[1] * planeMm.Y) + _h[2]) / w,
            ((_h[3] * planeMm.X) + (_h[4] * planeMm.Y) + _h[5]) / w));
    }

    public Vec2 ToPlane(Vec2 photoPx)
    {
        Vec2 n = Camera.Undistort(photoPx);
        double w = (_inverse[6] * n.X) + (_inverse[7] * n.Y) + _inverse[8];
        return new Vec2(
            ((_inverse[0] * n.X) + (_inverse[1] * n.Y) + _inverse[2]) / w,
            ((_inverse[3] * n.X) + (_inverse[4] * n.Y) + _inverse[5]) / w);
    }

    /// <summary>Scale at a point of the plane: square root of the area of one photo pixel there, in mm.</summary>
    public double MmPerPx(Vec2 planeMm)
    {
        Vec2 o = ToPhoto(planeMm);
        Vec2 dx = ToPhoto(planeMm + new Vec2(1, 0)) - o;
        Vec2 dy = ToPhoto(planeMm + new Vec2(0, 1)) - o;
        return 1 / Math.Sqrt(Math.Abs(dx.Cross(dy)));
    }

    /// <summary>
    /// The camera's centre in the plane's frame: x and y in mm, and its height above the plane in mm (positive towards the viewer),
    /// from the homography's two columns as scaled rotation columns (Zhang 2000, "A flexible new technique for camera calibration").
    /// </summary>
    public (Vec2 FootMm, double HeightMm) CameraPosition()
    {
        double n1 = Math.Sqrt((_h[0] * _h[0]) + (_h[3] * _h[3]) + (_h[6] * _h[6]));
        double n2 = Math.Sqrt((_h[1] * _h[1]) + (_h[4] * _h[4]) + (_h[7] * _h[7]));
        double scale = (n1 + n2) / 2 * Math.Sign(_h[8]);
        double[] r1 = [_h[0] / scale, _h[3] / scale, _h[6] / scale];
        double[] r2 = [_h[1] / scale, _h[4] / scale, _h[7] / scale];
        double[] t = [_h[2] / scale, _h[5] / scale, _h[8] / scale];
        double[] r3 = [(r1[1] * r2[2]) - (r1[2] * r2[1]), (r1[2] * r2[0]) - (r1[0] * r2[2]), (r1[0] * r2[1]) - (r1[1] * r2[0])];
        double height = -((r3[0] * t[0]) + (r3[1] * t[1]) + (r3[2] * t[2]));
        return (new Vec2(-((r1[0] * t[0]) + (r1[1] * t[1]) + (r1[2] * t[2])), -((r2[0] * t[0]) + (r2[1] * t[1]) + (r2[2] * t[2]))), Math.Abs(height));
    }

    /// <summary>
    /// A round bar's true radius divided by the half width that its outline shows in the plane: a ray that grazes the bar away from the
    /// camera's foot meets the plane farther out than the radius. Up to 15 % in the corners of a wide photo.
    /// </summary>
    /// <param name="pointMm">A point of the bar's centreline in the plane.</param>
    /// <param name="tangent">Unit direction of the bar there.</param>
    public double OutlineToRadius(Vec2 pointMm, Vec2 tangent)
    {
        (Vec2 foot, double height) = CameraPosition();
        double across = tangent.Perpendicular.Dot(pointMm - foot);
        return height / Math.Sqrt((height * height) + (across * across));
    }

    // By cofactors: MathNet inverts by triangular factors, which would change the last digits of every point.
    private static double[] Invert(double[] m)
    {
        double c0 = (m[4] * m[8]) - (m[5] * m[7]);
        double c1 = (m[5] * m[6]) - (m[3] * m[8]);
        double c2 = (m[3] * m[7]) - (m[4] * m[6]);
        double d = (m[0] * c0) + (m[1] * c1) + (m[2] * c2);
        if (d == 0 || double.IsNaN(d))
            throw new ArgumentException("The plane is seen edge-on: its homography has no inverse.", nameof(m));
        return
        [
            c0 / d, ((m[2] * m[7]) - (m[1] * m[8])) / d, ((m[1] * m[5]) - (m[2] * m[4])) / d,
            c1 / d, ((m[0] * m[8]) - (m[2] * m[6])) / d, ((m[2] * m[3]) - (m[0] * m[5])) / d,
            c2 / d, ((m[1] * m[6]) - (m[0] * m[7])) / d, ((m[0] * m[4]) - (m[1] * m[3])) / d,
        ];
    }
}

using DeflectScan.Geometry;

namespace DeflectScan.Calibration.Lens;

/// <summary>A view as the calibration used it.</summary>
/// <param name="Photo">File name.</param>
/// <param name="Corners">Corners used.</param>
/// <param name="RmsPx">Root mean square of their distances from where the lens puts them.</param>
/// <param name="TiltDeg">Angle between the board's normal and the line of sight's axis.</param>
/// <param name="DistanceMm">From the camera.</param>
public sealed record ViewReport(string Photo, int Corners, double RmsPx, double TiltDeg, double DistanceMm);

/// <summary>A lens calibrated from photos of boards, and what it is worth.</summary>
/// <param name="Profile">What is written to the file.</param>
/// <param name="Sd">Standard uncertainties of f, cx, cy (px), k1, k2, p1, p2, k3 (0: held).</param>
/// <param name="Views">One a board.</param>
/// <param name="CornersPx">All corners in the sensor's picture.</param>
/// <param name="ResidualsPx">Expected minus measured, in the same order.</param>
/// <param name="Coverage">Share, 0 to 1, of an 8 × 6 grid over the frame that holds corners.</param>
/// <param name="OutermostShare">Largest distance of a corner from the middle, as a share of half the diagonal.</param>
/// <param name="TurnDeg">Largest angle between two boards' normals.</param>
/// <param name="Warnings">What would make it better, a sentence each.</param>
public sealed record LensCalibration(
    LensProfile Profile,
    IReadOnlyList<double> Sd,
    IReadOnlyList<ViewReport> Views,
    IReadOnlyList<Vec2> CornersPx,
    IReadOnlyList<Vec2> ResidualsPx,
    double Coverage,
    double OutermostShare,
    double TurnDeg,
    IReadOnlyList<string> Warnings)
{
    public CameraModel Camera => new(
        Profile.FocalPx, new Vec2(Profile.PrincipalXPx, Profile.PrincipalYPx),
        Profile.Distortion[0], Profile.Distortion[1], Profile.Distortion[2], Profile.Distortion[3], Profile.Distortion[4]);

    /// <summary>How far the lens moves a point from where a perfect one would show it, px.</summary>
    public double DisplacementPx(Vec2 px) => (px - (Camera.PrincipalPx + (Camera.Undistort(px) * Profile.FocalPx))).Length;
}

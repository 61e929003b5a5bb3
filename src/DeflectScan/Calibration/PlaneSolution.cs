using DeflectScan.Geometry;

namespace DeflectScan.Calibration;

/// <summary>A card as it lies in the solved rod plane.</summary>
/// <param name="Letter">A to E.</param>
/// <param name="Corners">Corners used.</param>
/// <param name="RmsPx">Root mean square of the corners' distances from where the solution puts them.</param>
/// <param name="SquarePx">Side of a square in the photo, px.</param>
/// <param name="PatternMm">The pattern's four corners in the rod plane, from the print's top-left, clockwise as printed.</param>
/// <param name="BoardMm">The same for the sheet and its board, generously: nothing of the rod is measured inside.</param>
public sealed record SolvedCard(
    char Letter,
    int Corners,
    double RmsPx,
    double SquarePx,
    IReadOnlyList<Vec2> PatternMm,
    IReadOnlyList<Vec2> BoardMm);

/// <summary>The solved rod plane.</summary>
/// <param name="Plane">Maps px to mm; its variants carry the covariance. Origin: what the middle of the photo shows.</param>
/// <param name="Cards">The cards used, by letter.</param>
/// <param name="Lens">"none", "exif" or the lens profile's name.</param>
/// <param name="TiltDeg">Angle between the camera's axis and the plane's normal.</param>
/// <param name="DistanceMm">From the camera to the plane along the camera's axis.</param>
/// <param name="MmPerPx">Scale at the middle of the photo.</param>
/// <param name="ScaleUncertaintyPercent">Of a length across the middle half of the photo, 95 %.</param>
/// <param name="CornerSdPx">Noise of one corner coordinate, from the residuals.</param>
public sealed record PlaneSolution(
    RodPlane Plane,
    IReadOnlyList<SolvedCard> Cards,
    string Lens,
    double TiltDeg,
    double DistanceMm,
    double MmPerPx,
    double ScaleUncertaintyPercent,
    double CornerSdPx)
{
    /// <summary>What each card would do to the plane if it stood off the rod's; empty where that was solved for. For the photo as it was solved first.</summary>
    public IReadOnlyList<PlaneOfCardOff> CardsOff { get; init; } = [];

    /// <summary>The same photo with its plane put elsewhere: cards, tilt, distance and scale as that plane has them.</summary>
    public PlaneSolution In(RodPlane plane)
    {
        Vec2 Carry(Vec2 p) => plane.ToPlane(Plane.ToPhoto(p));
        (Vec2 foot, double height) = plane.CameraPosition();
        double aside = plane.ToPlane(plane.Camera.PrincipalPx).DistanceTo(foot);
        return this with
        {
            Plane = plane,
            Cards = [.. Cards.Select(c => c with { PatternMm = [.. c.PatternMm.Select(Carry)], BoardMm = [.. c.BoardMm.Select(Carry)] })],
            TiltDeg = Math.Atan2(aside, height) * 180 / Math.PI,
            DistanceMm = Math.Sqrt((aside * aside) + (height * height)),
            MmPerPx = plane.MmPerPx(Carry(default)),
        };
    }
}

/// <summary>The plane that the same photo gives if one card stands off the rod's plane.</summary>
/// <param name="Letter">The card.</param>
/// <param name="Mm">How far it stands off, towards the camera.</param>
/// <param name="Plane">The plane then; no variants.</param>
public sealed record PlaneOfCardOff(char Letter, double Mm, RodPlane Plane);

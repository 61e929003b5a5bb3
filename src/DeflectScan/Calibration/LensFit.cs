using DeflectScan.Calibration.Lens;
using DeflectScan.Findings;
using DeflectScan.Photos;

namespace DeflectScan.Calibration;

/// <summary>Whether a profile is that of a photo's camera, lens and zoom, and in what the two differ.</summary>
internal static class LensFit
{
    private const double SameFocalShare = 0.015;
    private const double SameFocal35Mm = 0.6; // EXIF has whole numbers
    private const double SameShape = 0.01;
    private const double LeastZoom = 1.01;
    private const double FocusShift = 0.005;

    /// <summary>Used unasked: the camera is stated and the same, and nothing that both state differs.</summary>
    public static bool BelongsTo(LensProfile profile, PhotoInfo photo)
    {
        LensIdentity of = profile.Identity;
        return of.CameraModel is not null && SameText(of.CameraModel, photo.CameraModel)
            && (of.CameraMake is null || SameText(of.CameraMake, photo.CameraMake))
            && (of.LensModel is null || SameText(of.LensModel, photo.LensModel))
            && (of.FocalLengthMm is null || SameFocal(of, photo)) && (of.FocalLength35Mm is null || SameFocal35(of, photo))
            && (of.FocalLengthMm ?? of.FocalLength35Mm) is not null
            && photo.DigitalZoom is not > LeastZoom;
    }

    /// <summary>How well two profiles that both belong to a photo suit it: same shape first, then the surer focal length.</summary>
    public static double Closeness(LensProfile profile, PhotoInfo photo) =>
        (HasSameShape(profile, photo) ? 1 : 0) - (Math.Sqrt(profile.Covariance[0][0]) / profile.FocalPx);

    public static IEnumerable<Finding> Differences(LensProfile profile, PhotoInfo photo)
    {
        LensIdentity of = profile.Identity;
        if (Differs(of.CameraModel, photo.CameraModel) || Differs(of.CameraMake, photo.CameraMake))
            yield return Doubt("is of another camera than the photo: use that camera's own profile");
        else if (Differs(of.LensModel, photo.LensModel))
            yield return Doubt("is of another lens than the photo: use that lens's own profile");
        if ((of.FocalLengthMm is not null && photo.FocalLengthMm is not null && !SameFocal(of, photo))
            || (of.FocalLength35Mm is not null && photo.FocalLength35Mm is not null && !SameFocal35(of, photo)))
        {
            yield return Doubt("was made at another zoom than the photo: use a profile of this zoom");
        }

        if (photo.DigitalZoom is > LeastZoom)
            yield return Doubt("does not hold for a digitally zoomed photo: take it without zoom");
        if (!HasSameShape(profile, photo))
            yield return Finding.Note(FindingCode.LensUnknown, $"The photo has another shape than those that the lens profile {profile.Name} was made from: it was taken to be cut equally at both sides, so use the whole photo.");
    }

    /// <summary>What focusing elsewhere does, once the photo's distance is known; null where it does next to nothing.</summary>
    public static Finding? Focus(LensProfile profile, PhotoInfo photo, double distanceMm) =>
        Math.Abs(FocusChange(profile, photo, distanceMm)) is var change and > FocusShift
            ? Finding.Note(FindingCode.LensUnknown, $"The lens profile {profile.Name} was made from boards {profile.BoardDistanceMm / 1000:0.0} m away, the photo from {distanceMm / 1000:0.0} m: focusing elsewhere may change the focal length by {100 * change:0.0} %, which the uncertainty allows for.")
            : null;

    /// <summary>
    /// Relative change of the focal length in px between the board's distance and another, for a lens that focuses as a whole: the image
    /// distance is f d / (d - f), so it changes by f/d (thin lens). Lenses that focus inside do otherwise, by about as much.
    /// </summary>
    public static double FocusChange(LensProfile profile, PhotoInfo photo, double distanceMm)
    {
        const double PhoneFocalMm = 5; // common practice, no source
        return profile.BoardDistanceMm is { } board && (photo.FocalLengthMm ?? profile.Identity.FocalLengthMm ?? PhoneFocalMm) is var f
            ? (f / distanceMm) - (f / board)
            : 0;
    }

    private static Finding Doubt(string what) => Finding.Review(FindingCode.LensUnknown, $"The lens profile {what}, or none.");

    private static bool HasSameShape(LensProfile profile, PhotoInfo photo)
    {
        double a = Math.Max(profile.WidthPx, profile.HeightPx) / (double)Math.Min(profile.WidthPx, profile.HeightPx);
        double b = Math.Max(photo.WidthPx, photo.HeightPx) / (double)Math.Min(photo.WidthPx, photo.HeightPx);
        return Math.Abs(a - b) < SameShape * a;
    }

    private static bool SameFocal(LensIdentity of, PhotoInfo photo) =>
        photo.FocalLengthMm is { } mm && of.FocalLengthMm is { } own && Math.Abs(mm - own) <= SameFocalShare * own;

    private static bool SameFocal35(LensIdentity of, PhotoInfo photo) =>
        photo.FocalLength35Mm is { } mm && of.FocalLength35Mm is { } own && Math.Abs(mm - own) <= SameFocal35Mm;

    private static bool SameText(string? a, string? b) => string.Equals(a?.Trim(), b?.Trim(), StringComparison.OrdinalIgnoreCase);

    private static bool Differs(string? a, string? b) => a is not null && b is not null && !SameText(a, b);
}

namespace DeflectScan.Photos;

/// <summary>What is known of a photo besides its pixels. Text from EXIF is untrusted: escape it wherever it is shown.</summary>
/// <param name="FileName">Name without folder.</param>
/// <param name="Sha256">Hash of the file's bytes, 64 lower-case hex digits.</param>
/// <param name="WidthPx">Width as a person sees it, after EXIF orientation.</param>
/// <param name="HeightPx">Height as a person sees it.</param>
/// <param name="ExifOrientation">1 to 8; 1 where the file says none. Already obeyed.</param>
/// <param name="TakenAt">Local time of the camera, if stated.</param>
/// <param name="CameraMake">As in EXIF.</param>
/// <param name="CameraModel">As in EXIF.</param>
/// <param name="LensModel">As in EXIF.</param>
/// <param name="FocalLengthMm">True focal length, if stated.</param>
/// <param name="FocalLength35Mm">35 mm equivalent focal length (a whole number in EXIF), if stated.</param>
/// <param name="DigitalZoom">Digital zoom ratio, if stated and not 1.</param>
public sealed record PhotoInfo(
    string FileName,
    string Sha256,
    int WidthPx,
    int HeightPx,
    int ExifOrientation,
    DateTime? TakenAt,
    string? CameraMake,
    string? CameraModel,
    string? LensModel,
    double? FocalLengthMm,
    double? FocalLength35Mm,
    double? DigitalZoom);

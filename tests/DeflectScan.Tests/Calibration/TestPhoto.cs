using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using OpenCvSharp;

namespace DeflectScan.Tests.Calibration;

/// <summary>Opens test photos for this room's tests alone, without the room Photos: OpenCV obeys the EXIF orientation.</summary>
internal static class TestPhoto
{
    /// <summary>The test photos that show a card.</summary>
    public static readonly string[] WithCards =
    [
        "bad-tip-cropped", "casting-top", "clean-spinning", "clutter-bench", "one-card", "rotated-exif", "thin-braid", "wall-shadow", "yaw12",
    ];

    public static UprightPhoto Open(string name) =>
        From(Cv2.ImRead(Repository.Photo(name)), Repository.Truth(name).Image.Focal35MmExif);

    /// <summary>A photo of the given pixels (owned by it).</summary>
    public static UprightPhoto From(Mat bgr, double? focal35Mm = null) => new(Info(bgr.Width, bgr.Height, focal35Mm), bgr);

    public static PhotoInfo Info(int widthPx, int heightPx, double? focal35Mm) =>
        new("photo.jpg", new string('0', 64), widthPx, heightPx, 1, null, null, null, null, null, focal35Mm, null);

    public static Vec2 CornerPx(TruthCard card, int index) => new(card.InnerCornersPx[index][0], card.InnerCornersPx[index][1]);
}

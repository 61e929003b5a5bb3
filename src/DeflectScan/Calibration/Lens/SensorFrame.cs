using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Calibration.Lens;

/// <summary>
/// The sensor's own picture behind an upright photo: a lens belongs to the sensor, however the camera was held. Portrait photos that say
/// nothing are taken to have been held like EXIF orientation 6, as <see cref="LensPrior"/> takes them.
/// </summary>
internal sealed record SensorFrame(int WidthPx, int HeightPx, int Orientation)
{
    /// <summary>Null for mirrored pictures: no camera stores them.</summary>
    public static SensorFrame? Of(PhotoInfo photo)
    {
        bool portrait = photo.HeightPx > photo.WidthPx;
        return photo.ExifOrientation switch
        {
            2 or 4 or 5 or 7 => null,
            8 when portrait => new SensorFrame(photo.HeightPx, photo.WidthPx, 8),
            3 when !portrait => new SensorFrame(photo.WidthPx, photo.HeightPx, 3),
            _ => portrait ? new SensorFrame(photo.HeightPx, photo.WidthPx, 6) : new SensorFrame(photo.WidthPx, photo.HeightPx, 1),
        };
    }

    /// <summary>From px of the upright photo.</summary>
    public Vec2 FromUpright(Vec2 px) => Orientation switch
    {
        6 => new Vec2(px.Y, HeightPx - 1 - px.X),
        8 => new Vec2(WidthPx - 1 - px.Y, px.X),
        3 => new Vec2(WidthPx - 1 - px.X, HeightPx - 1 - px.Y),
        _ => px,
    };
}

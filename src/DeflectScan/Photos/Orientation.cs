using OpenCvSharp;

namespace DeflectScan.Photos;

/// <summary>EXIF orientation: which side of the scene the stored first row and first column are (CIPA DC-008, 4.6.4 A, tag 274).</summary>
internal static class Orientation
{
    /// <summary>Turns the stored pixels upright. Takes <paramref name="stored"/> over: what comes back is the only one to dispose.</summary>
    /// <param name="stored">Height × width as in the file.</param>
    /// <param name="orientation">1 to 8.</param>
    public static Mat TurnUpright(Mat stored, int orientation)
    {
        switch (orientation)
        {
            case 2: Cv2.Flip(stored, stored, FlipMode.Y); return stored;
            case 3: Cv2.Flip(stored, stored, FlipMode.XY); return stored;
            case 4: Cv2.Flip(stored, stored, FlipMode.X); return stored;
            case 5: return Replace(stored, m => Cv2.Transpose(stored, m));
            case 6: return Replace(stored, m => Cv2.Rotate(stored, m, RotateFlags.Rotate90Clockwise));
            case 7: return Replace(stored, m =>
            {
                Cv2.Rotate(stored, m, RotateFlags.Rotate90Clockwise);
                Cv2.Flip(m, m, FlipMode.X);
            });
            case 8: return Replace(stored, m => Cv2.Rotate(stored, m, RotateFlags.Rotate90Counterclockwise));
            default: return stored;
        }
    }

    private static Mat Replace(Mat stored, Action<Mat> turn)
    {
        using (stored)
        {
            Mat upright = new();
            turn(upright);
            return upright;
        }
    }
}

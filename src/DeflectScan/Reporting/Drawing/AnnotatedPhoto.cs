using DeflectScan.Geometry;
using DeflectScan.Photos;
using OpenCvSharp;
using SkiaSharp;

namespace DeflectScan.Reporting.Drawing;

/// <summary>A photo between two strips of words, with marks drawn into it.</summary>
internal static class AnnotatedPhoto
{
    /// <summary>Draws into the photo's part of the picture.</summary>
    /// <param name="brush">On the picture's canvas, clipped to the photo.</param>
    /// <param name="scale">Canvas px of one photo px.</param>
    /// <param name="top">Canvas y of the photo's upper edge.</param>
    /// <param name="frame">Where labels may stand.</param>
    public delegate void Marks(Brush brush, double scale, double top, Box frame);

    /// <summary>The picture as a PNG file's bytes; the same input gives the same bytes.</summary>
    public static byte[] Draw(UprightPhoto photo, InfoStrip head, InfoStrip foot, int maxSidePx, Marks marks)
    {
        (int photoWidthPx, int photoHeightPx) = (photo.Bgr.Cols, photo.Bgr.Rows);
        double wholeHeight = ((double)photoHeightPx / photoWidthPx) + ((head.HeightWithMargin + foot.HeightWithMargin) / 1000);
        int widthPx = Math.Max(1, (int)Math.Min(photoWidthPx, maxSidePx / Math.Max(1, wholeHeight)));
        double scale = (double)widthPx / photoWidthPx;
        int heightPx = Math.Max(1, (int)Math.Round(photoHeightPx * scale));
        float unit = widthPx / 1000f;
        int top = (int)Math.Ceiling(head.HeightWithMargin * unit);
        int below = (int)Math.Ceiling(foot.HeightWithMargin * unit);

        using Picture picture = new(widthPx, top + heightPx + below);
        using (Mat small = Shrink(photo.Bgr, widthPx, heightPx))
            picture.Lay(small, 0, top);

        picture.Brush.Canvas.Save();
        picture.Brush.Canvas.ClipRect(new SKRect(0, top, widthPx, top + heightPx));
        Box frame = new(new Vec2(widthPx / 2.0, top + (heightPx / 2.0)), widthPx, heightPx);
        marks(picture.Brush, scale, top, frame.Grown(-4 * unit));
        picture.Brush.Canvas.Restore();
        head.Draw(picture.Brush, 0);
        foot.Draw(picture.Brush, top + heightPx);
        return picture.ToPng();
    }

    /// <summary>First by a whole number, averaging (fast), then the small rest between pixels. Dispose it.</summary>
    private static Mat Shrink(Mat bgr, int widthPx, int heightPx)
    {
        int times = Math.Max(1, bgr.Cols / widthPx);
        Mat small = new();
        if (times == 1)
        {
            Cv2.Resize(bgr, small, new OpenCvSharp.Size(widthPx, heightPx), 0, 0, InterpolationFlags.Area);
            return small;
        }

        using Mat coarse = new();
        Cv2.Resize(bgr, coarse, new OpenCvSharp.Size(bgr.Cols / times, bgr.Rows / times), 0, 0, InterpolationFlags.Area);
        Cv2.Resize(coarse, small, new OpenCvSharp.Size(widthPx, heightPx), 0, 0, InterpolationFlags.Linear);
        return small;
    }
}

using OpenCvSharp;

namespace DeflectScan.Tracing.Reading;

/// <summary>The whole photo, reduced to one scale, as the network that proposes the blank sees it.</summary>
internal static class PhotoView
{
    /// <summary>Scale of the picture, rod-plane mm a px about the photo's middle.</summary>
    public const double MmPerPx = 3;

    /// <summary>No side is longer than this, px: a photo that takes in far more than the rod is reduced further.</summary>
    private const int LongestPx = 1600;

    /// <summary>The photo reduced by area, both sides a whole number of px; the caller disposes it.</summary>
    /// <param name="photoBgr">8-bit.</param>
    /// <param name="mmPerPx">Its scale about its middle.</param>
    /// <param name="factor">Px of the small picture for one of the photo.</param>
    public static Mat Reduced(Mat photoBgr, double mmPerPx, out double factor)
    {
        factor = Math.Min(1, Math.Min(mmPerPx / MmPerPx, (double)LongestPx / Math.Max(photoBgr.Width, photoBgr.Height)));
        Mat small = new();
        Cv2.Resize(photoBgr, small, new Size((int)Math.Round(photoBgr.Width * factor), (int)Math.Round(photoBgr.Height * factor)), 0, 0, InterpolationFlags.Area);
        return small;
    }
}

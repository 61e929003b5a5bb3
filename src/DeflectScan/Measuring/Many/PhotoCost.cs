using DeflectScan.Photos;

namespace DeflectScan.Measuring;

/// <summary>What measuring a photo takes of memory, known before a pixel is decoded.</summary>
public static class PhotoCost
{
    /// <summary>Bytes a pixel at the most: three of the colours, and the stages' own pictures of luma and of what the networks see.</summary>
    public const int BytesAPixel = 24;

    /// <summary>Pixels where the file does not say them without being decoded (HEIC): those of most phones.</summary>
    private const long UsualPixels = 12_200_000;

    public static long Of(string path) => BytesAPixel * (PhotoOpener.PixelsOf(path) ?? UsualPixels);
}

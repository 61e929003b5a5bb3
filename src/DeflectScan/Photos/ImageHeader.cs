namespace DeflectScan.Photos;

/// <summary>What a picture file says of itself, read from its structure without decoding a pixel.</summary>
/// <param name="WidthPx">As stored, before EXIF orientation.</param>
/// <param name="HeightPx">As stored.</param>
/// <param name="Exif">The EXIF block from its TIFF header on; empty where there is none.</param>
/// <param name="HoldsEnough">False where the packed data is too short, by its coding's own limit, for the size that is claimed.</param>
internal sealed record ImageHeader(int WidthPx, int HeightPx, ReadOnlyMemory<byte> Exif = default, bool HoldsEnough = true)
{
    /// <summary>Largest EXIF block that is looked at; a larger one is passed over.</summary>
    public const int MaxExifBytes = 1 << 20;

    /// <summary>What can be checked of the packed data, over the whole file, before it is decoded; throws <see cref="BrokenFileException"/>.</summary>
    public CodingCheck? CheckCoding { get; init; }

    public delegate void CodingCheck(ReadOnlySpan<byte> file);

    public long Pixels => (long)WidthPx * HeightPx;
}

/// <summary>A file whose structure does not hold; the message is one sentence for the user.</summary>
internal sealed class BrokenFileException(string message) : Exception(message)
{
    public static BrokenFileException Cut(string format) =>
        new($"The {format} file ends too early: copy it from the phone or camera once more.");

    public static BrokenFileException Damaged(string format) =>
        new($"The {format} file is damaged: copy it from the phone or camera once more.");

    public static BrokenFileException Animated(string format) =>
        new($"The {format} file is an animation: give a single photo instead.");
}

namespace DeflectScan.Photos;

/// <summary>What a photo file may cost; both limits are checked before a pixel is decoded.</summary>
public sealed record PhotoLimits
{
    public static PhotoLimits Default { get; } = new();

    /// <summary>Largest file in bytes. Default 200 MB: above any phone's JPEG of 120 megapixels.</summary>
    public long MaxBytes { get; init; } = 200_000_000;

    /// <summary>Largest width × height in pixels. Default 120 million; decoded this takes 360 MB.</summary>
    public long MaxPixels { get; init; } = 120_000_000;

    /// <summary>Longest time that the HEIC converter may take. Default 30 s.</summary>
    public TimeSpan ConverterTimeout { get; init; } = TimeSpan.FromSeconds(30);
}

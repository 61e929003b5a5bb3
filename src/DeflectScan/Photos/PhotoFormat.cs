namespace DeflectScan.Photos;

/// <summary>What a file's first bytes say it is; the name's extension is never asked.</summary>
public enum PhotoFormat
{
    Jpeg,
    Png,
    WebP,
    Heif,
    Other,
}

/// <summary>Tells a file's kind from its signature.</summary>
internal static class Signature
{
    /// <summary>The kind, and for <see cref="PhotoFormat.Other"/> what a person would call it.</summary>
    public static (PhotoFormat Format, string Name) Of(ReadOnlySpan<byte> head)
    {
        if (head.StartsWith<byte>([0xFF, 0xD8, 0xFF]))
            return (PhotoFormat.Jpeg, "JPEG");
        if (head.StartsWith<byte>([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]))
            return (PhotoFormat.Png, "PNG");
        if (head.Length >= 12 && head.StartsWith("RIFF"u8) && head[8..].StartsWith("WEBP"u8))
            return (PhotoFormat.WebP, "WebP");
        if (head.Length >= 12 && head[4..].StartsWith("ftyp"u8))
            return IsHeifBrand(head[8..12]) ? (PhotoFormat.Heif, "HEIC") : (PhotoFormat.Other, "a film or another kind of media file");
        return (PhotoFormat.Other, OtherName(head));
    }

    private static bool IsHeifBrand(ReadOnlySpan<byte> brand) =>
        brand.SequenceEqual("heic"u8) || brand.SequenceEqual("heix"u8) || brand.SequenceEqual("heim"u8) || brand.SequenceEqual("heis"u8)
        || brand.SequenceEqual("mif1"u8) || brand.SequenceEqual("msf1"u8) || brand.SequenceEqual("hevc"u8);

    private static string OtherName(ReadOnlySpan<byte> head) =>
        head.StartsWith("BM"u8) ? "a BMP picture"
        : head.StartsWith("GIF8"u8) ? "a GIF picture"
        : head.StartsWith("II*\0"u8) || head.StartsWith("MM\0*"u8) ? "a TIFF or raw picture"
        : head.StartsWith("%PDF"u8) ? "a PDF document"
        : head.StartsWith("PK"u8) ? "a ZIP archive"
        : head.StartsWith("<svg"u8) || head.StartsWith("<?xml"u8) ? "an SVG or XML document"
        : "no picture that this program knows";
}

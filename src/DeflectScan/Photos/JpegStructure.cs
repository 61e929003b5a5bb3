using System.Buffers.Binary;

namespace DeflectScan.Photos;

/// <summary>
/// Walks a JPEG from marker to marker (ITU-T T.81, annex B) up to its end-of-image marker. What follows that marker (a phone's second picture or
/// film) is not looked at, so a whole primary picture is told from a cut one without trusting the file's last bytes.
/// </summary>
internal static class JpegStructure
{
    /// <summary>More scans than any camera writes; each costs a pass over the whole picture.</summary>
    private const int MaxScans = 40;

    private static ReadOnlySpan<byte> ExifName => "Exif\0\0"u8;

    /// <exception cref="BrokenFileException">Cut, damaged, or of a kind that the decoder does not read.</exception>
    public static ImageHeader Read(ReadOnlyMemory<byte> file)
    {
        ReadOnlySpan<byte> bytes = file.Span;
        ImageHeader? header = null;
        JpegCoding coding = new();
        ReadOnlyMemory<byte> exif = default;
        int scans = 0;
        long scanBytes = 0;
        int at = 2;
        while (true)
        {
            byte marker = NextMarker(bytes, ref at);
            if (marker == 0xD9)
                break;
            if (marker is 0x01 or (>= 0xD0 and <= 0xD8))
                throw BrokenFileException.Damaged("JPEG");
            if (at + 2 > bytes.Length)
                throw BrokenFileException.Cut("JPEG");
            int length = BinaryPrimitives.ReadUInt16BigEndian(bytes[at..]);
            if (length < 2)
                throw BrokenFileException.Damaged("JPEG");
            if (at + length > bytes.Length)
                throw BrokenFileException.Cut("JPEG");
            ReadOnlyMemory<byte> body = file.Slice(at + 2, length - 2);
            at += length;
            if (marker == 0xE1 && exif.IsEmpty && body.Span.StartsWith(ExifName))
                exif = body[ExifName.Length..];
            else if (IsFrame(marker))
            {
                header = header is null ? Frame(marker, body.Span) : throw BrokenFileException.Damaged("JPEG");
                coding.Frame(marker, body.Span);
            }
            else if (marker == 0xC4)
                coding.HuffmanTables(body.Span);
            else if (marker == 0xDD)
                coding.RestartInterval(body.Span);
            else if (marker == 0xDA)
            {
                if (header is null || ++scans > MaxScans)
                    throw BrokenFileException.Damaged("JPEG");
                int start = at;
                SkipScan(bytes, ref at);
                scanBytes += at - start;
                coding.Scan(body.Span, start, at);
            }
        }

        if (header is null || scans == 0)
            throw BrokenFileException.Damaged("JPEG");
        return header with { Exif = exif, HoldsEnough = scanBytes * 8 >= Blocks(header), CheckCoding = coding.CheckScans };
    }

    /// <summary>Blocks of 8 × 8 in the luma plane: each costs one bit at the least in Huffman coding.</summary>
    private static long Blocks(ImageHeader header) => (long)((header.WidthPx + 7) / 8) * ((header.HeightPx + 7) / 8);

    private static byte NextMarker(ReadOnlySpan<byte> bytes, ref int at)
    {
        if (at + 1 < bytes.Length && bytes[at] != 0xFF)
            throw BrokenFileException.Damaged("JPEG");
        while (at < bytes.Length && bytes[at] == 0xFF)
            at++;
        if (at >= bytes.Length)
            throw BrokenFileException.Cut("JPEG");
        return bytes[at++];
    }

    /// <summary>From the first entropy-coded byte to the marker that ends the scan: stuffed FF00 and restart markers belong to the scan.</summary>
    private static void SkipScan(ReadOnlySpan<byte> bytes, ref int at)
    {
        while (true)
        {
            int step = bytes[at..].IndexOf((byte)0xFF);
            if (step < 0 || at + step + 1 >= bytes.Length)
                throw BrokenFileException.Cut("JPEG");
            at += step;
            if (bytes[at + 1] is not (0x00 or (>= 0xD0 and <= 0xD7)))
                return;
            at += 2;
        }
    }

    private static bool IsFrame(byte marker) => marker is >= 0xC0 and <= 0xCF and not (0xC4 or 0xC8 or 0xCC);

    private static ImageHeader Frame(byte marker, ReadOnlySpan<byte> body)
    {
        if (marker > 0xC2)
            throw new BrokenFileException("The JPEG file uses a rare way of coding: open it in a photo program and save it as an ordinary JPEG.");
        if (body.Length < 6)
            throw BrokenFileException.Damaged("JPEG");
        int height = BinaryPrimitives.ReadUInt16BigEndian(body[1..]);
        int width = BinaryPrimitives.ReadUInt16BigEndian(body[3..]);
        int components = body[5];
        if (body[0] != 8 || width == 0 || height == 0 || components is not (1 or 3 or 4) || body.Length != 6 + (3 * components))
            throw BrokenFileException.Damaged("JPEG");
        return new ImageHeader(width, height);
    }
}

using System.Buffers.Binary;

namespace DeflectScan.Photos;

/// <summary>Walks a WebP file from chunk to chunk (RFC 9649) and reads the size from its bit stream's own header.</summary>
internal static class WebpStructure
{
    private const int AnimationFlag = 0x02;

    /// <exception cref="BrokenFileException">Cut, damaged, or an animation.</exception>
    public static ImageHeader Read(ReadOnlyMemory<byte> file)
    {
        ReadOnlySpan<byte> bytes = file.Span;
        long end = 8L + BinaryPrimitives.ReadUInt32LittleEndian(bytes[4..]);
        if (end > bytes.Length)
            throw BrokenFileException.Cut("WebP");
        ImageHeader? canvas = null;
        ImageHeader? picture = null;
        ReadOnlyMemory<byte> exif = default;
        for (long at = 12; at + 8 <= end;)
        {
            ReadOnlySpan<byte> type = bytes.Slice((int)at, 4);
            long length = BinaryPrimitives.ReadUInt32LittleEndian(bytes[(int)(at + 4)..]);
            if (at + 8 + length > end)
                throw BrokenFileException.Cut("WebP");
            ReadOnlyMemory<byte> body = file.Slice((int)at + 8, (int)length);
            at += 8 + length + (length & 1);
            if (type.SequenceEqual("VP8X"u8))
                canvas = Extended(body.Span);
            else if (type.SequenceEqual("VP8 "u8))
                picture ??= Lossy(body.Span);
            else if (type.SequenceEqual("VP8L"u8))
                picture ??= Lossless(body.Span);
            else if (type.SequenceEqual("EXIF"u8) && exif.IsEmpty && length <= ImageHeader.MaxExifBytes)
                exif = body.Span.StartsWith("Exif\0\0"u8) ? body[6..] : body;
        }

        if (picture is null || (canvas is not null && canvas != picture))
            throw BrokenFileException.Damaged("WebP");
        return picture with { Exif = exif };
    }

    private static ImageHeader Extended(ReadOnlySpan<byte> body)
    {
        if (body.Length < 10)
            throw BrokenFileException.Damaged("WebP");
        if ((body[0] & AnimationFlag) != 0)
            throw BrokenFileException.Animated("WebP");
        return new ImageHeader(1 + UInt24(body[4..]), 1 + UInt24(body[7..]));
    }

    /// <summary>VP8 key frame: 3 bytes of frame tag, the start code, then 14 bits each of width and height (RFC 6386, 9.1).</summary>
    private static ImageHeader Lossy(ReadOnlySpan<byte> body)
    {
        if (body.Length < 10 || (body[0] & 1) != 0 || !body[3..].StartsWith<byte>([0x9D, 0x01, 0x2A]))
            throw BrokenFileException.Damaged("WebP");
        int width = BinaryPrimitives.ReadUInt16LittleEndian(body[6..]) & 0x3FFF;
        int height = BinaryPrimitives.ReadUInt16LittleEndian(body[8..]) & 0x3FFF;
        return width > 0 && height > 0 ? new ImageHeader(width, height) : throw BrokenFileException.Damaged("WebP");
    }

    private static ImageHeader Lossless(ReadOnlySpan<byte> body)
    {
        if (body.Length < 5 || body[0] != 0x2F)
            throw BrokenFileException.Damaged("WebP");
        uint bits = BinaryPrimitives.ReadUInt32LittleEndian(body[1..]);
        return new ImageHeader(1 + (int)(bits & 0x3FFF), 1 + (int)((bits >> 14) & 0x3FFF));
    }

    private static int UInt24(ReadOnlySpan<byte> b) => b[0] | (b[1] << 8) | (b[2] << 16);
}

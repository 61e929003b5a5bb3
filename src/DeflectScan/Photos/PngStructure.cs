using System.Buffers.Binary;
using System.IO.Hashing;

namespace DeflectScan.Photos;

/// <summary>Walks a PNG from chunk to chunk (W3C PNG specification, third edition, chapter 5) up to IEND.</summary>
internal static class PngStructure
{
    /// <summary>The most that deflate can pack: 258 bytes in two bits.</summary>
    private const long DeflateRatio = 1032;

    /// <exception cref="BrokenFileException">Cut, damaged, or an animation.</exception>
    public static ImageHeader Read(ReadOnlyMemory<byte> file)
    {
        ReadOnlySpan<byte> bytes = file.Span;
        ImageHeader? header = null;
        ReadOnlyMemory<byte> exif = default;
        double rawBytes = 0;
        long dataBytes = 0;
        int at = 8;
        while (true)
        {
            if (at + 12 > bytes.Length)
                throw BrokenFileException.Cut("PNG");
            uint length = BinaryPrimitives.ReadUInt32BigEndian(bytes[at..]);
            if (length > int.MaxValue)
                throw BrokenFileException.Damaged("PNG");
            if (length > bytes.Length - at - 12)
                throw BrokenFileException.Cut("PNG");
            ReadOnlySpan<byte> type = bytes.Slice(at + 4, 4);
            ReadOnlyMemory<byte> body = file.Slice(at + 8, (int)length);
            uint sum = BinaryPrimitives.ReadUInt32BigEndian(bytes[(at + 8 + (int)length)..]);
            if (Crc32.HashToUInt32(bytes.Slice(at + 4, 4 + (int)length)) != sum)
                throw BrokenFileException.Damaged("PNG");
            at += 12 + (int)length;
            if (type.SequenceEqual("IHDR"u8) != header is null)
                throw BrokenFileException.Damaged("PNG");
            if (header is null)
                (header, rawBytes) = Head(body.Span);
            else if (type.SequenceEqual("IDAT"u8))
                dataBytes += length;
            else if (type.SequenceEqual("eXIf"u8) && exif.IsEmpty && length <= ImageHeader.MaxExifBytes)
                exif = body;
            else if (type.SequenceEqual("acTL"u8))
                throw BrokenFileException.Animated("PNG");
            else if (type.SequenceEqual("IEND"u8))
                break;
        }

        return header with { Exif = exif, HoldsEnough = dataBytes * DeflateRatio >= rawBytes };
    }

    /// <summary>The size, and the fewest bytes that its rows unpack to.</summary>
    private static (ImageHeader Header, double RawBytes) Head(ReadOnlySpan<byte> body)
    {
        if (body.Length != 13)
            throw BrokenFileException.Damaged("PNG");
        uint width = BinaryPrimitives.ReadUInt32BigEndian(body);
        uint height = BinaryPrimitives.ReadUInt32BigEndian(body[4..]);
        if (width is 0 or > int.MaxValue || height is 0 or > int.MaxValue)
            throw BrokenFileException.Damaged("PNG");
        int channels = body[9] switch { 0 or 3 => 1, 2 => 3, 4 => 2, 6 => 4, _ => throw BrokenFileException.Damaged("PNG") };
        long rowBytes = (((long)width * channels * body[8]) + 7) / 8;
        return (new ImageHeader((int)width, (int)height), (double)rowBytes * height);
    }
}

using System.Buffers.Binary;
using System.IO.Hashing;
using DeflectScan.Findings;

namespace DeflectScan.Photos;

/// <summary>
/// A photo file with nothing in it but the picture and what measuring uses of EXIF: every pixel is as it was, and where it was taken, who took it, notes, small
/// pictures and whatever follows the picture are gone. Made by copying what is known to be needed, so that what is not known goes, too.
/// </summary>
/// <param name="Bytes">The file.</param>
/// <param name="SaidPlace">The given file said where the photo was taken.</param>
public sealed record PlainPhoto(byte[] Bytes, bool SaidPlace)
{
    /// <summary>Its name's ending, with the dot.</summary>
    public string Ending => Signature.Of(Bytes).Format switch { PhotoFormat.Png => ".png", PhotoFormat.WebP => ".webp", _ => ".jpg" };

    /// <summary>The plain file of a JPEG, PNG or WebP; a refusal where it is none or its structure does not hold: nothing of it can be kept then.</summary>
    public static Outcome<PlainPhoto> Of(ReadOnlyMemory<byte> file)
    {
        try
        {
            (PhotoFormat format, string name) = Signature.Of(file.Span);
            return format switch
            {
                PhotoFormat.Jpeg => Outcome<PlainPhoto>.Of(Jpeg(file)),
                PhotoFormat.Png => Outcome<PlainPhoto>.Of(Png(file)),
                PhotoFormat.WebP => Outcome<PlainPhoto>.Of(WebP(file)),
                _ => Outcome<PlainPhoto>.Refused(FindingCode.FileUnreadable, $"This is {(format == PhotoFormat.Heif ? "a HEIC picture, whose place cannot be taken out here" : name)}: send the photo as JPEG."),
            };
        }
        catch (BrokenFileException e)
        {
            return Outcome<PlainPhoto>.Refused(FindingCode.FileUnreadable, e.Message);
        }
    }

    private static PlainPhoto Jpeg(ReadOnlyMemory<byte> file)
    {
        ImageHeader header = JpegStructure.Read(file); // throws where a marker is not where it must be
        (byte[] exif, bool place) = PlainExif.Of(header.Exif);
        ReadOnlySpan<byte> bytes = file.Span;
        using MemoryStream plain = new(bytes.Length);
        plain.Write([0xFF, 0xD8]);
        if (exif.Length > 0)
            Segment(plain, 0xE1, [.. "Exif\0\0"u8, .. exif]);
        for (int at = 2; ;)
        {
            while (bytes[at] == 0xFF)
                at++;
            byte marker = bytes[at++];
            if (marker == 0xD9)
                break;
            int length = BinaryPrimitives.ReadUInt16BigEndian(bytes[at..]);
            ReadOnlySpan<byte> body = bytes.Slice(at + 2, length - 2);
            place |= marker == 0xE1 && body.IndexOf("GPSLatitude"u8) >= 0;
            if (IsNeeded(marker, body))
                Segment(plain, marker, body);
            at += length;
            if (marker != 0xDA)
                continue;
            int end = at;
            while (bytes[end] != 0xFF || bytes[end + 1] is 0x00 or (>= 0xD0 and <= 0xD7))
                end++;
            plain.Write(bytes[at..end]);
            at = end;
        }

        plain.Write([0xFF, 0xD9]);
        return new PlainPhoto(plain.ToArray(), place);
    }

    /// <summary>The picture's own segments, and of an application's the two that say how its colours are coded (JFIF, Adobe).</summary>
    private static bool IsNeeded(byte marker, ReadOnlySpan<byte> body) =>
        marker is < 0xE0 or (> 0xEF and not 0xFE) || (marker == 0xE0 && body.StartsWith("JFIF\0"u8)) || (marker == 0xEE && body.StartsWith("Adobe"u8));

    private static void Segment(MemoryStream to, byte marker, ReadOnlySpan<byte> body)
    {
        Span<byte> length = stackalloc byte[2];
        BinaryPrimitives.WriteUInt16BigEndian(length, checked((ushort)(body.Length + 2)));
        to.Write([0xFF, marker]);
        to.Write(length);
        to.Write(body);
    }

    private static PlainPhoto Png(ReadOnlyMemory<byte> file)
    {
        ImageHeader header = PngStructure.Read(file);
        (byte[] exif, bool place) = PlainExif.Of(header.Exif);
        ReadOnlySpan<byte> bytes = file.Span;
        using MemoryStream plain = new(bytes.Length);
        plain.Write(bytes[..8]);
        bool isData = false;
        for (int at = 8; at + 12 <= bytes.Length;)
        {
            int length = (int)BinaryPrimitives.ReadUInt32BigEndian(bytes[at..]);
            ReadOnlySpan<byte> type = bytes.Slice(at + 4, 4);
            if (!isData && type.SequenceEqual("IDAT"u8))
            {
                isData = true;
                if (exif.Length > 0)
                    Chunk(plain, exif);
            }

            bool needed = type.SequenceEqual("IHDR"u8) || type.SequenceEqual("PLTE"u8) || type.SequenceEqual("tRNS"u8) || type.SequenceEqual("gAMA"u8)
                || type.SequenceEqual("sRGB"u8) || type.SequenceEqual("IDAT"u8) || type.SequenceEqual("IEND"u8);
            place |= !needed && bytes.Slice(at + 8, length).IndexOf("GPSLatitude"u8) >= 0;
            if (needed)
                plain.Write(bytes.Slice(at, 12 + length));
            if (type.SequenceEqual("IEND"u8))
                break;
            at += 12 + length;
        }

        return new PlainPhoto(plain.ToArray(), place);
    }

    private static void Chunk(MemoryStream to, byte[] exif)
    {
        byte[] body = [.. "eXIf"u8, .. exif];
        Span<byte> four = stackalloc byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(four, (uint)exif.Length);
        to.Write(four);
        to.Write(body);
        BinaryPrimitives.WriteUInt32BigEndian(four, Crc32.HashToUInt32(body));
        to.Write(four);
    }

    private static PlainPhoto WebP(ReadOnlyMemory<byte> file)
    {
        const byte ExifFlag = 0x08, XmpFlag = 0x04, ProfileFlag = 0x20;
        ImageHeader header = WebpStructure.Read(file);
        (byte[] exif, bool place) = PlainExif.Of(header.Exif);
        ReadOnlySpan<byte> bytes = file.Span;
        List<byte> chunks = [.. "WEBP"u8];
        bool isExtended = false;
        long end = 8L + BinaryPrimitives.ReadUInt32LittleEndian(bytes[4..]);
        for (long at = 12; at + 8 <= end;)
        {
            ReadOnlySpan<byte> type = bytes.Slice((int)at, 4);
            int length = (int)BinaryPrimitives.ReadUInt32LittleEndian(bytes[(int)(at + 4)..]);
            byte[] whole = [.. bytes.Slice((int)at, Math.Min(8 + length + (length & 1), bytes.Length - (int)at))];
            if (type.SequenceEqual("VP8X"u8))
            {
                isExtended = true;
                whole[8] = (byte)((whole[8] & ~(ExifFlag | XmpFlag | ProfileFlag)) | (exif.Length > 0 ? ExifFlag : 0));
                chunks.AddRange(whole);
            }
            else if (type.SequenceEqual("VP8 "u8) || type.SequenceEqual("VP8L"u8) || type.SequenceEqual("ALPH"u8))
            {
                chunks.AddRange(whole);
            }
            else
            {
                place |= whole.AsSpan().IndexOf("GPSLatitude"u8) >= 0;
            }

            at += 8 + length + (length & 1);
        }

        Span<byte> four = stackalloc byte[4];
        if (isExtended && exif.Length > 0)
        {
            BinaryPrimitives.WriteUInt32LittleEndian(four, (uint)exif.Length);
            chunks.AddRange([.. "EXIF"u8, .. four, .. exif, .. new byte[exif.Length & 1]]);
        }

        BinaryPrimitives.WriteUInt32LittleEndian(four, (uint)chunks.Count);
        return new PlainPhoto([.. "RIFF"u8, .. four, .. chunks], place);
    }
}

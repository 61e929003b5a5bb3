using System.Buffers.Binary;
using DeflectScan.Findings;

namespace DeflectScan.Photos;

/// <summary>
/// A photo for other people: its coded pixels byte for byte, of its metadata only what measuring uses. Position, serial numbers, names, maker's notes, thumbnails, XMP, IPTC,
/// comments and whatever follows the picture are left out.
/// </summary>
public static class SharedPhoto
{
    /// <summary>The cleaned file, or why there is none.</summary>
    /// <param name="file">A whole JPEG, PNG or WebP file.</param>
    public static Outcome<SharedFile> Of(byte[] file)
    {
        try
        {
            return Signature.Of(file).Format switch
            {
                PhotoFormat.Jpeg => Made(JpegSharing.Cleaned(file), ".jpg"),
                PhotoFormat.Png => Made(PngSharing.Cleaned(file), ".png"),
                PhotoFormat.WebP => Made(WebpSharing.Cleaned(file), ".webp"),
                _ => Refused("Only JPEG, PNG and WebP photos can be cleaned for sharing: save this one as JPEG and measure that."),
            };
        }
        catch (BrokenFileException)
        {
            return Refused("The photo is cut or damaged: it cannot be cleaned for sharing.");
        }
        catch (Exception e) when (e is ArgumentOutOfRangeException or IndexOutOfRangeException)
        {
            return Refused("The photo is cut or damaged: it cannot be cleaned for sharing.");
        }
    }

    private static Outcome<SharedFile> Made(byte[] bytes, string ending) => Outcome<SharedFile>.Of(new SharedFile(bytes, ending));

    private static Outcome<SharedFile> Refused(string message) => Outcome<SharedFile>.Refused(FindingCode.FileUnreadable, message);
}

/// <summary>A cleaned photo.</summary>
/// <param name="Bytes">The file.</param>
/// <param name="Ending">Its name's ending, with the dot.</param>
public sealed record SharedFile(byte[] Bytes, string Ending);

/// <summary>JPEG: application segments but JFIF's, Adobe's and the colour profile are left out, comments too; EXIF is written anew (ITU-T T.81, annex B).</summary>
internal static class JpegSharing
{
    public static byte[] Cleaned(ReadOnlyMemory<byte> file)
    {
        ReadOnlySpan<byte> bytes = file.Span;
        byte[] exif = SharedExif.Of(JpegStructure.Read(file).Exif);
        using MemoryStream clean = new(file.Length);
        clean.Write([0xFF, 0xD8]);
        bool exifWritten = false;
        int at = 2;
        while (true)
        {
            while (bytes[at] == 0xFF && bytes[at + 1] == 0xFF)
                at++;
            byte marker = bytes[at + 1];
            if (!exifWritten && marker != 0xE0)
            {
                Exif(clean, exif);
                exifWritten = true;
            }

            if (marker == 0xD9)
            {
                clean.Write([0xFF, 0xD9]);
                return clean.ToArray();
            }

            int end = at + 2 + BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 2)..]);
            if (marker == 0xDA)
                end = EndOfScan(bytes, end);
            if (IsKept(marker, bytes[(at + 4)..end]))
                clean.Write(bytes[at..end]);
            at = end;
        }
    }

    private static bool IsKept(byte marker, ReadOnlySpan<byte> body) => marker switch
    {
        0xE0 => body.StartsWith("JFIF\0"u8),
        0xE2 => body.StartsWith("ICC_PROFILE\0"u8),
        0xEE => body.StartsWith("Adobe"u8),
        >= 0xE0 and <= 0xEF or 0xFE => false,
        _ => true,
    };

    private static void Exif(MemoryStream clean, byte[] exif)
    {
        if (exif.Length == 0)
            return;
        Span<byte> head = stackalloc byte[4];
        (head[0], head[1]) = (0xFF, 0xE1);
        BinaryPrimitives.WriteUInt16BigEndian(head[2..], (ushort)(exif.Length + 8));
        clean.Write(head);
        clean.Write("Exif\0\0"u8);
        clean.Write(exif);
    }

    // Where the coded data ends: at a marker that is neither a stuffed byte nor a restart.
    private static int EndOfScan(ReadOnlySpan<byte> bytes, int at)
    {
        while (!(bytes[at] == 0xFF && bytes[at + 1] is not (0x00 or 0xFF or (>= 0xD0 and <= 0xD7))))
            at++;
        return at;
    }
}

/// <summary>PNG: chunks that the picture itself needs stay, EXIF is written anew (PNG 3rd edition, 11).</summary>
internal static class PngSharing
{
    private static readonly string[] Kept = ["IHDR", "PLTE", "IDAT", "IEND", "tRNS", "gAMA", "cHRM", "sRGB", "iCCP", "sBIT", "cICP", "pHYs", "bKGD"];

    public static byte[] Cleaned(ReadOnlyMemory<byte> file)
    {
        ReadOnlySpan<byte> bytes = file.Span;
        byte[] exif = SharedExif.Of(PngStructure.Read(file).Exif);
        using MemoryStream clean = new(file.Length);
        clean.Write(bytes[..8]);
        int at = 8;
        while (true)
        {
            int end = at + 12 + checked((int)BinaryPrimitives.ReadUInt32BigEndian(bytes[at..]));
            string type = System.Text.Encoding.ASCII.GetString(bytes.Slice(at + 4, 4));
            if (Kept.Contains(type))
                clean.Write(bytes[at..end]);
            if (type == "IHDR" && exif.Length > 0)
                Chunk(clean, exif);
            at = end;
            if (type == "IEND")
                return clean.ToArray();
        }
    }

    private static void Chunk(MemoryStream clean, byte[] exif)
    {
        Span<byte> number = stackalloc byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(number, (uint)exif.Length);
        clean.Write(number);
        byte[] body = [.. "eXIf"u8, .. exif];
        clean.Write(body);
        BinaryPrimitives.WriteUInt32BigEndian(number, System.IO.Hashing.Crc32.HashToUInt32(body));
        clean.Write(number);
    }
}

/// <summary>WebP: the bit stream, its colour profile and alpha stay, EXIF is written anew (RFC 9649).</summary>
internal static class WebpSharing
{
    private const int ExifFlag = 0x08;
    private const int XmpFlag = 0x04;

    public static byte[] Cleaned(ReadOnlyMemory<byte> file)
    {
        ReadOnlySpan<byte> bytes = file.Span;
        byte[] exif = SharedExif.Of(WebpStructure.Read(file).Exif);
        using MemoryStream clean = new(file.Length);
        clean.Write("RIFF\0\0\0\0WEBP"u8);
        long whole = 8L + BinaryPrimitives.ReadUInt32LittleEndian(bytes[4..]);
        bool extended = false;
        for (int at = 12; at + 8 <= whole;)
        {
            int length = checked((int)BinaryPrimitives.ReadUInt32LittleEndian(bytes[(at + 4)..]));
            string type = System.Text.Encoding.ASCII.GetString(bytes.Slice(at, 4));
            byte[] body = bytes.Slice(at + 8, length).ToArray();
            at += 8 + length + (length & 1);
            if (type == "VP8X")
            {
                extended = true;
                body[0] = (byte)((body[0] & ~(XmpFlag | ExifFlag)) | (exif.Length > 0 ? ExifFlag : 0));
            }

            if (type is "VP8X" or "VP8 " or "VP8L" or "ALPH" or "ICCP")
                Chunk(clean, type, body);
        }

        if (extended && exif.Length > 0)
            Chunk(clean, "EXIF", exif);
        byte[] made = clean.ToArray();
        BinaryPrimitives.WriteUInt32LittleEndian(made.AsSpan(4), (uint)(made.Length - 8));
        return made;
    }

    private static void Chunk(MemoryStream clean, string type, byte[] body)
    {
        Span<byte> number = stackalloc byte[4];
        clean.Write(System.Text.Encoding.ASCII.GetBytes(type));
        BinaryPrimitives.WriteUInt32LittleEndian(number, (uint)body.Length);
        clean.Write(number);
        clean.Write(body);
        if (body.Length % 2 == 1)
            clean.WriteByte(0);
    }
}
